import { standardPacketBytes } from '../../ethernet/frame-size.ts';
import type { DeclaredSegment, Intent } from '../../intent/types.ts';
import type { ChangeRemark } from '../types.ts';
import type { Carriage } from './carriage.ts';
import { caution, listWords } from './remark.ts';

/**
 * What a router does with the packets of a large segment that leave for a smaller one: it fragments
 * them (RFC 791 3.2), or answers that they are too big (RFC 1191; of IPv6 always, RFC 8201).
 */
export const atRouter =
  'fragments larger packets, or answers that they are too big (RFC 791, RFC 1191; of IPv6 always, RFC 8201)';

/** Routers by which packets leave a segment above 1500 for smaller ones. */
export function gatewayRemarks(
  { nodes }: Intent,
  carried: ReadonlyMap<string, readonly Carriage[]>,
): ChangeRemark[] {
  return nodes
    .filter(({ routes }) => routes)
    .flatMap(({ name }) => {
      const segments = [...new Set(carried.get(name)?.map(({ segment }) => segment))];
      return segments.flatMap((segment) => leaving(name, segment, segments));
    });
}

function leaving(
  router: string,
  { name, mtuBytes = 0 }: DeclaredSegment,
  all: readonly DeclaredSegment[],
): ChangeRemark[] {
  const smaller = all.flatMap((other) =>
    (other.mtuBytes ?? Infinity) < mtuBytes ? [`${other.name} (${other.mtuBytes})`] : [],
  );
  if (mtuBytes <= standardPacketBytes || smaller.length === 0) return [];
  return [
    caution(
      router,
      `is the way out of segment ${name} (${mtuBytes} bytes) into ${listWords(smaller)}: it ${atRouter}`,
      'let nothing filter those ICMP answers',
    ),
  ];
}
