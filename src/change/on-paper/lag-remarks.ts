import type { DeclaredLink, Intent } from '../../intent/types.ts';
import type { ChangeRemark } from '../types.ts';
import { impossible, listWords } from './remark.ts';

/**
 * Whether the links of an aggregate are alike: one speed, and the same segments, since it is one
 * port to all that is above it (IEEE 802.1AX, from memory). That it has more than one is the
 * loader's to see.
 */
export function lagRemarks({ links }: Intent): ChangeRemark[] {
  const members = new Map<string, DeclaredLink[]>();
  for (const link of links)
    if (link.lag !== undefined) members.set(link.lag, [...(members.get(link.lag) ?? []), link]);
  return [...members].flatMap(([lag, all]) => [
    ...unequalSpeeds(`aggregate ${lag}`, all),
    ...unequalSegments(`aggregate ${lag}`, all),
  ]);
}

function unequalSpeeds(on: string, links: readonly DeclaredLink[]): ChangeRemark[] {
  const speeds = new Set(links.flatMap(({ speedMbps }) => speedMbps ?? []));
  if (speeds.size < 2) return [];
  const each = links.flatMap(({ id, speedMbps }) =>
    speedMbps === undefined ? [] : [`${id} at ${speedMbps} Mb/s`],
  );
  return [
    impossible(
      on,
      `has links of unequal speeds: ${listWords(each)}; only those of one speed carry frames together (IEEE 802.1AX)`,
      'declare one speed for all its links',
    ),
  ];
}

function unequalSegments(on: string, links: readonly DeclaredLink[]): ChangeRemark[] {
  const carried = new Set(links.map(segmentWords));
  if (carried.size < 2) return [];
  const each = links.map((link) => `${link.id} ${segmentWords(link)}`);
  return [
    impossible(
      on,
      `has links that carry different segments: ${listWords(each)}; it is one port, and any link may carry any frame (IEEE 802.1AX)`,
      'declare the same segments on all its links',
    ),
  ];
}

function segmentWords({ untagged, tagged }: DeclaredLink): string {
  const words = [
    ...(untagged === undefined ? [] : [`untagged ${untagged}`]),
    ...(tagged.length === 0 ? [] : [`tagged ${tagged.toSorted().join(', ')}`]),
  ];
  return words.length === 0 ? 'without a segment' : words.join(', ');
}
