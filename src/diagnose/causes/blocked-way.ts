import { rateWords } from '../../ethernet/run-brake.ts';
import type { Site, SitePath } from '../../site/types.ts';
import type { CauseDraft } from '../cause.ts';

/** A faster declared way is up, and the spanning tree blocks it. */
export function blockedWay(_site: Site, { subject }: SitePath): readonly CauseDraft[] {
  const { takesBestWay, blockedPorts, bestWayMbps, wayInUseMbps } = subject.facts;
  if (takesBestWay !== false || !Array.isArray(blockedPorts)) return [];
  const blocked = blockedPorts.join(' and ');
  const ways = [
    typeof wayInUseMbps === 'number'
      ? `traffic takes a way of ${rateWords(wayInUseMbps)}`
      : 'no way is left open',
    ...(typeof bestWayMbps === 'number' ? [`one of ${rateWords(bestWayMbps)} is up`] : []),
  ];
  return [
    {
      kind: 'blocked-way',
      proof: 'is',
      what: `the spanning tree: it blocks ${blocked}`,
      for: [`the spanning tree blocks ${blocked}`, ...ways].map((says) => ({ says })),
      remedy: 'lower the path cost of the blocked ports, or move the root bridge to the fast side',
      settledBy: `read the state of ${blocked} again after the change`,
    },
  ];
}
