import type { PortReadFacts } from '../facts/port-facts.ts';
import type { NodeSurvey } from '../facts/survey.ts';

/** Layers that are walked down, at most. */
const layersMax = 64;

/**
 * What every port of a node calls its MTU once `wanted` is set, by the node's own port names; a
 * port that is not known has no entry. Whatever order they were set in, it comes to the same.
 *
 * On hosts a VLAN interface is drawn down with what it stands on, the members of a bond take what
 * is set on the bond, and a bridge follows its smallest member unless it was set by hand, which is
 * taken to be so where the two differ (Linux: net/8021q/vlan.c, drivers/net/bonding, net/bridge;
 * from memory). On switches only the members of an aggregate follow.
 */
export function layeredMtus(
  { ports }: NodeSurvey,
  wanted: ReadonlyMap<string, number>,
  forwards: boolean,
): ReadonlyMap<string, number> {
  const facts = new Map(ports.map((port) => [port.name, port.facts]));
  const bonds = bondsByMember(facts);
  const found = new Map<string, number | undefined>();
  const base = (name: string | undefined) => facts.get(name ?? '')?.mtuBytes;
  const own = (name: string) => wanted.get(name) ?? wanted.get(bonds.get(name) ?? '') ?? base(name);

  const value = (name: string, depth: number): number | undefined => {
    if (found.has(name) || depth > layersMax) return found.get(name) ?? base(name);
    // What stands on itself is as it was.
    found.set(name, base(name));
    const now = layered(name, depth);
    found.set(name, now);
    return now;
  };

  const layered = (name: string, depth: number): number | undefined => {
    const { kind, lowerPorts = [] } = facts.get(name) ?? {};
    if (forwards) return own(name);
    if (kind === 'vlan') {
      const [parent] = lowerPorts;
      const below = parent === undefined ? undefined : value(parent, depth + 1);
      const moved = wanted.has(name) || below !== base(parent);
      return moved ? least([own(name), below]) : own(name);
    }
    if (kind !== 'bridge' || wanted.has(name)) return own(name);
    return follows(base(name), lowerPorts.map(base))
      ? least(lowerPorts.map((lower) => value(lower, depth + 1)))
      : own(name);
  };

  const all = new Map<string, number>();
  for (const name of facts.keys()) {
    const now = value(name, 0);
    if (now !== undefined) all.set(name, now);
  }
  return all;
}

/** Whether a bridge is taken to follow its members: it is as large as the smallest of them. */
export function follows(
  bridge: number | undefined,
  members: readonly (number | undefined)[],
): boolean {
  return bridge !== undefined && members.length > 0 && bridge === least(members);
}

function least(sizes: readonly (number | undefined)[]): number | undefined {
  const known = sizes.filter((size) => size !== undefined);
  return known.length === 0 ? undefined : Math.min(...known);
}

function bondsByMember(facts: ReadonlyMap<string, PortReadFacts>): Map<string, string> {
  const bonds = new Map<string, string>();
  for (const [name, { kind, lowerPorts = [] }] of facts)
    if (kind === 'bond') for (const member of lowerPorts) bonds.set(member, name);
  return bonds;
}
