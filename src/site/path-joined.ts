import { breakOf } from './path-breaks.ts';
import type { PathPlan } from './path-plan.ts';
import { vlansMissingAt } from './port-vlans.ts';
import type { PortRef, SiteIndex } from './site-index.ts';
import type { Hop, Site, SitePath } from './types.ts';

/**
 * Whether links that are not known to be dead join the ends of a path: declared, and with no end
 * that has no link or does not carry the VLAN of the path. What was not read is not dead.
 */
export function isJoined(path: SitePath, { intent }: Site): boolean {
  if (path.subject.facts['connected'] === false) return false;
  const vlanOf = vlans(intent.segments);
  const broken = breakOf(path, ({ port: { subject } }: Hop) => {
    const missing = subject.facts['vlansMissing'];
    return isDead({
      operUp: subject.facts['operUp'],
      missing: Array.isArray(missing) ? missing.map(Number) : undefined,
      wanted: path.declared.over.flatMap((name) => vlanOf.get(name) ?? []),
    });
  });
  return broken === undefined || broken.spare;
}

/** The same of a path that is planned; `nowOf` gives a port as it is in the state that is asked for. */
export function isPlanJoined(
  plan: PathPlan,
  index: SiteIndex,
  nowOf: (ref: PortRef) => PortRef = (ref) => ref,
): boolean {
  if (!plan.connected) return false;
  const vlanOf = vlans(index.intent.segments);
  const wanted = plan.declared.over.flatMap((name) => vlanOf.get(name) ?? []);
  const ends = { from: plan.from.declared.name, to: plan.to.declared.name };
  const hops = plan.hops.map((hop) => ({
    ...hop,
    port: { id: hop.ref.id, node: hop.ref.node.declared.name },
  }));
  const broken = breakOf({ ...ends, hops }, ({ ref }) => {
    const now = nowOf(ref);
    return isDead({
      operUp: now.node.gap === undefined ? now.survey?.facts.operUp : undefined,
      missing: now.node.gap === undefined ? vlansMissingAt(index, now) : undefined,
      wanted,
    });
  });
  return broken === undefined || broken.spare;
}

interface Seen {
  readonly operUp: unknown;
  readonly missing: readonly number[] | undefined;
  /** VLANs of the segments that the path names; none: it may go over any. */
  readonly wanted: readonly number[];
}

/** A path over several segments still has a way where the port carries one of them. */
function isDead({ operUp, missing = [], wanted }: Seen): boolean {
  if (operUp === false) return true;
  return wanted.length > 0 && wanted.every((vlan) => missing.includes(vlan));
}

function vlans(
  segments: readonly { readonly name: string; readonly vlan?: number }[],
): ReadonlyMap<string, number> {
  return new Map(
    segments.flatMap(({ name, vlan }) => (vlan === undefined ? [] : [[name, vlan] as const])),
  );
}
