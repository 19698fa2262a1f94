import { byName } from '../facts/order.ts';
import { type FarEnd, isElsewhere } from './far-end.ts';
import type { PortRef, SiteIndex } from './site-index.ts';

/**
 * The first link, in the order of names, of all that one mistake with cords explains together: the
 * two links of a swapped pair have one. By the id of the port; no entry: nothing moved there.
 */
export function movedLinks(
  index: SiteIndex,
  farEnds: ReadonlyMap<PortRef, FarEnd>,
): ReadonlyMap<string, string> {
  const groups = new Groups();
  const moved: PortRef[] = [];
  for (const [ref, farEnd] of farEnds) {
    if (farEnd.declared !== false && isElsewhere(ref, farEnd) !== true) continue;
    moved.push(ref);
    for (const port of farEnd.foundOn) groups.join(ref.id, port);
    for (const port of heardPorts(index, farEnd)) groups.join(ref.id, port);
  }
  // Both ends of a link that moved belong together, whichever of them tells.
  for (const { ends } of index.links)
    if (ends.some((end) => groups.has(end.id))) groups.join(ends[0].id, ends[1].id);
  const first = new Map<string, string>();
  for (const { declared, ends } of [...index.links].sort((a, b) =>
    byName(a.declared.id, b.declared.id),
  )) {
    const group = groups.of(ends[0].id);
    if (group !== undefined && !first.has(group)) first.set(group, declared.id);
  }
  return new Map(
    moved.flatMap((ref) => {
      const link = first.get(groups.of(ref.id) ?? '') ?? ref.ends[0]?.link.declared.id;
      return link === undefined ? [] : [[ref.id, link] as const];
    }),
  );
}

/** The port that was heard; of a node without one, the end of its only link. */
function heardPorts(index: SiteIndex, { heardAs = '' }: FarEnd): readonly string[] {
  if (index.ports.has(heardAs)) return [heardAs];
  const [link, more] = index.linksOf.get(heardAs) ?? [];
  if (link === undefined || more !== undefined) return [];
  return link.ends.filter((end) => end.node.declared.name === heardAs).map((end) => end.id);
}

/** Ports that belong together, by a union of sets. */
class Groups {
  readonly #parents = new Map<string, string>();

  has(port: string): boolean {
    return this.#parents.has(port);
  }

  of(port: string): string | undefined {
    let root = port;
    for (let up = this.#parents.get(root); up !== undefined && up !== root; ) {
      root = up;
      up = this.#parents.get(root);
    }
    return this.has(port) ? root : undefined;
  }

  join(a: string, b: string): void {
    for (const port of [a, b]) if (!this.has(port)) this.#parents.set(port, port);
    const [x, y] = [this.of(a) ?? a, this.of(b) ?? b];
    if (x !== y) this.#parents.set(y, x);
  }
}
