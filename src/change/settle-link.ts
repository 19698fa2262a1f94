import type { Gap } from '../facts/gap.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';

/** How one end of a link is set: by steps where they set it, else as it was read. */
export interface LineSetting {
  /** Auto-negotiation is on; absent: not known. */
  readonly negotiates?: boolean;
  /** The only speed that it runs at or offers, in Mb/s; absent: it offers all that it can. */
  readonly onlyMbps?: number;
  /** The only duplex that it runs in or offers; absent: whatever is negotiated. */
  readonly onlyDuplex?: 'full' | 'half';
}

/** What an end runs at once the link has settled. */
export type SettledEnd =
  | { readonly facts: Pick<PortReadFacts, 'speedMbps' | 'duplex'> }
  | { readonly gap: Gap; readonly down: boolean };

const waits: Omit<Gap, 'words'> = { reason: 'unasked', cause: 'links that the change sets anew' };

/** Above this speed in Mb/s twisted pair has no way without negotiation (IEEE 802.3, 40.5.1). */
const parallelMaxMbps = 100;

/**
 * What both ends run at once they are set: two that negotiate take what both offer; two that do not
 * need one speed; one that does not and one that does come up at 10 and 100 Mb/s by parallel
 * detection, in half duplex at the end that negotiates (IEEE 802.3, 28.2.3.1).
 */
export function settleLink(a: LineSetting, b: LineSetting): readonly [SettledEnd, SettledEnd] {
  const speeds = [...new Set([a, b].flatMap(({ onlyMbps }) => onlyMbps ?? []))];
  const [speedMbps] = speeds;
  const isSet = a.onlyMbps !== undefined && b.onlyMbps !== undefined;
  if (speeds.length > 1) {
    const known = a.negotiates !== undefined && b.negotiates !== undefined;
    return known ? down(speeds) : both(unknown('whether both ends come to one speed is not known'));
  }
  if (a.negotiates === true && b.negotiates === true)
    return speedMbps === undefined
      ? both(unknown('negotiated anew: known once the link is up again'))
      : negotiated(speedMbps, a, b);
  if (a.negotiates === false && b.negotiates === false)
    return isSet
      ? [forced(a, speedMbps), forced(b, speedMbps)]
      : both(unknown('the speed that one end is set to is not known'));
  if (a.negotiates === undefined || b.negotiates === undefined)
    return isSet && speedMbps !== undefined && a.negotiates === b.negotiates
      ? negotiated(speedMbps, a, b)
      : both(unknown('whether the other end negotiates is not known'));
  if (speedMbps === undefined || speedMbps > parallelMaxMbps)
    return both(
      unknown('negotiation is on at one end alone: whether the link comes up is not known'),
    );
  const half: SettledEnd = { facts: { speedMbps, duplex: 'half' } };
  return a.negotiates ? [half, forced(b, speedMbps)] : [forced(a, speedMbps), half];
}

function negotiated(speedMbps: number, a: LineSetting, b: LineSetting) {
  const duplexes = [a, b].flatMap(({ onlyDuplex }) => onlyDuplex ?? []);
  const duplex = duplexes.includes('half') ? 'half' : 'full';
  return both({ facts: { speedMbps, duplex } });
}

function forced({ onlyDuplex }: LineSetting, speedMbps: number | undefined): SettledEnd {
  if (speedMbps === undefined) return unknown('the speed that it is set to is not known');
  return { facts: { speedMbps, ...(onlyDuplex === undefined ? {} : { duplex: onlyDuplex }) } };
}

function down(speeds: readonly number[]): readonly [SettledEnd, SettledEnd] {
  const words = `its ends are set to ${speeds.join(' and ')} Mb/s, so that the link is down`;
  return both({ gap: { reason: 'down', words, cause: waits.cause ?? words }, down: true });
}

function unknown(words: string): SettledEnd {
  return { gap: { ...waits, words }, down: false };
}

function both(end: SettledEnd): readonly [SettledEnd, SettledEnd] {
  return [end, end];
}
