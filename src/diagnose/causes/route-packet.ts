import { sourceOf } from '../../facts/subject.ts';
import type { Site, SitePath } from '../../site/types.ts';
import type { CauseDraft } from '../cause.ts';

/** A route that carries a smaller MTU of its own than the declared packet. */
export function routeMtu(site: Site, path: SitePath): readonly CauseDraft[] {
  return site.directions.flatMap(({ path: of, from, to, subject }) => {
    const { routeMtuBytes, declaredMtuBytes } = subject.facts;
    if (of !== path.id || typeof routeMtuBytes !== 'number') return [];
    if (typeof declaredMtuBytes !== 'number' || routeMtuBytes >= declaredMtuBytes) return [];
    const source = sourceOf(subject, 'routeMtuBytes');
    const says = `the route of ${from} to ${to} carries an MTU of ${routeMtuBytes} bytes`;
    return [
      {
        kind: 'route-mtu',
        proof: 'is',
        what: `the route of ${from} to ${to}: it carries ${routeMtuBytes} of the declared ${declaredMtuBytes} bytes`,
        for: [{ says, ...(source === undefined ? {} : { source }) }],
        remedy: 'take the MTU off the route, or let it run out if path MTU discovery put it there',
        settledBy: `ask ${from} for its route to ${to} again after ten minutes`,
      } as const,
    ];
  });
}

/** A router that does not pass what an end sends: it works only as long as its ICMP gets back. */
export function routerShrinks(site: Site, path: SitePath): readonly CauseDraft[] {
  return site.directions.flatMap(({ path: of, from, to, subject }) => {
    const { routedWhole, shrinksAt, shrinksToBytes, senderBytes } = subject.facts;
    if (of !== path.id || routedWhole !== false) return [];
    return [
      {
        kind: 'router-shrinks',
        proof: 'check',
        what: `${String(shrinksAt)} passes ${String(shrinksToBytes)} of the ${String(senderBytes)} bytes that ${from} sends: where its ICMP is dropped, transfers stall`,
        for: [
          { says: `${from} sends packets of ${String(senderBytes)} bytes` },
          { says: `${String(shrinksAt)} passes ${String(shrinksToBytes)}` },
        ],
        remedy:
          'see that no firewall drops ICMP type 3 code 4 and ICMPv6 type 2, or let the router lower the segment size of TCP',
        settledBy: `hopgauge fit ${from} ${to}`,
      } as const,
    ];
  });
}
