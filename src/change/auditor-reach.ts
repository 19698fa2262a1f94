import type { Intent } from '../intent/types.ts';
import { vlansMissingAt } from '../site/port-vlans.ts';
import { indexSite, type LinkRef, type SiteIndex } from '../site/site-index.ts';
import type { ForetoldState } from './foretell.ts';

/** Name of the node that hopgauge runs on; undefined: it is not declared. */
export function auditorOf({ nodes }: Intent): string | undefined {
  return nodes.find(({ access }) => access.some(({ via }) => via === 'local'))?.name;
}

/** Stands for what a link carries that names no segment. */
const anySegment = '';

/**
 * Nodes that declared links join to `auditor`, itself among them: links of which no end is known to
 * have no link, within a segment whose VLAN no end is known to lack, and from one segment to another
 * over what routes. What was not read is not dead.
 */
export function reachedBy(auditor: string, { intent, survey }: ForetoldState): ReadonlySet<string> {
  const index = indexSite(intent, survey, { strict: false });
  const reached = new Map<string, Set<string>>();
  const waiting: { readonly node: string; readonly segment: string }[] = [];
  const arrive = (node: string, segment: string) => {
    const known = reached.get(node) ?? new Set<string>();
    reached.set(node, known);
    if (known.has(segment)) return;
    known.add(segment);
    waiting.push({ node, segment });
  };
  const links = alive(index);
  const from = (node: string) => links.get(node) ?? [];
  for (const { segments } of from(auditor)) for (const each of segments) arrive(auditor, each);
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    const view = index.nodes.get(at.node);
    if (view === undefined) continue;
    const isRouter = view.declared.routes && at.node !== auditor;
    if (!isRouter && !view.forwards && at.node !== auditor) continue;
    for (const { far, segments } of from(at.node))
      for (const segment of segments)
        if (isRouter || segment === at.segment || segment === anySegment) arrive(far, segment);
        else if (at.segment === anySegment) arrive(far, segment);
  }
  return new Set([auditor, ...reached.keys()]);
}

interface Way {
  readonly far: string;
  readonly segments: readonly string[];
}

/** By node, where its links lead and the segments that they carry, as far as was read. */
function alive(index: SiteIndex): ReadonlyMap<string, readonly Way[]> {
  const found = new Map<string, Way[]>();
  for (const link of index.links) {
    const segments = carried(index, link);
    const names = link.ends.map(({ node }) => node.declared.name);
    for (const [near, far] of [names, names.toReversed()])
      if (near !== undefined && far !== undefined && segments.length > 0)
        found.set(near, [...(found.get(near) ?? []), { far, segments }]);
  }
  return found;
}

function carried(index: SiteIndex, { ends, segments }: LinkRef): readonly string[] {
  if (ends.some(({ node, survey }) => node.gap === undefined && survey?.facts.operUp === false))
    return [];
  if (segments.length === 0) return [anySegment];
  const missing = new Set(
    ends.flatMap((ref) => (ref.node.gap === undefined ? (vlansMissingAt(index, ref) ?? []) : [])),
  );
  return segments.filter((name) => {
    const vlan = index.segments.get(name)?.vlan;
    return vlan === undefined || !missing.has(vlan);
  });
}
