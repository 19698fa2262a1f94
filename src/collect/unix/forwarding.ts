import { cleanText } from '../../facts/clean-text.ts';
import { byName } from '../../facts/order.ts';
import type { ForwardingReading } from '../../facts/survey.ts';

/** One station that a bridge has heard. */
export interface Station {
  readonly mac: string;
  /** Port behind which it was heard. Untrusted. */
  readonly port: string;
  readonly vlan?: number;
}

/** Stations of one node that are kept. */
export const stationsMax = 4000;

/** Stations by port and VLAN, in order; none of the node's own. */
export function forwardingOf(
  stations: readonly Station[],
  own: ReadonlySet<string>,
): readonly ForwardingReading[] {
  const groups = new Map<string, { port: string; vlan: number | undefined; macs: Set<string> }>();
  for (const { mac, port, vlan } of stations.slice(0, stationsMax)) {
    const name = cleanText(port);
    if (own.has(mac) || name === '') continue;
    const key = `${name} ${vlan ?? ''}`;
    const group = groups.get(key) ?? { port: name, vlan, macs: new Set<string>() };
    group.macs.add(mac);
    groups.set(key, group);
  }
  return [...groups.values()]
    .sort((a, b) => byName(a.port, b.port) || (a.vlan ?? 0) - (b.vlan ?? 0))
    .map(({ port, vlan, macs }) => ({
      port,
      ...(vlan === undefined ? {} : { vlan }),
      macs: [...macs].sort(),
    }));
}
