import type { DeclaredLink } from '../../intent/types.ts';
import type { SitePath } from '../../site/types.ts';

/** Whether `links`, some of those that a path crosses, join its ends. */
export function joins({ from, to }: SitePath, links: readonly DeclaredLink[]): boolean {
  const around = new Map<string, string[]>();
  for (const { ends } of links) {
    const [a, b] = ends;
    append(around, a.node, b.node);
    append(around, b.node, a.node);
  }
  const reached = new Set([from]);
  // A set that grows while it is walked is walked to its end; each node enters it once.
  for (const node of reached) for (const next of around.get(node) ?? []) reached.add(next);
  return reached.has(to);
}

function append(around: Map<string, string[]>, node: string, next: string): void {
  const known = around.get(node);
  if (known === undefined) around.set(node, [next]);
  else known.push(next);
}
