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
  /** Speeds in Mb/s that it is known to do, or to offer where nothing sets it; absent: not known. */
  readonly speedsMbps?: readonly number[];
  /** Those of them at which it is known to do half duplex; absent: not known. */
  readonly halfMbps?: readonly number[];
  /** Its link is twisted pair; absent: not known. */
  readonly twistedPair?: boolean;
  /** Speeds that the list of those has no name for, so that its silence tells nothing. */
  readonly silentMbps?: readonly number[];
}

/** What an end runs at once the link has settled. */
export type SettledEnd =
  | { readonly facts: Pick<PortReadFacts, 'speedMbps' | 'duplex'> }
  | { readonly gap: Gap; readonly down: boolean };

/** The cause of all that is not known of a link since a change sets it anew. */
export const settledCause = 'links that the change sets anew';

/**
 * Above this speed in Mb/s twisted pair has no way without negotiation, which settles who is master
 * (IEEE 802.3, 40.5.1 and 55.6.1).
 */
const parallelMaxMbps = 100;

/**
 * What both ends run at once they are set: two that negotiate take what both offer; two that do not
 * need one speed; one that does not and one that does come up at 10 and 100 Mb/s by parallel
 * detection, in half duplex at the end that negotiates (IEEE 802.3, 28.2.3.1). A speed that an end is
 * not known to do, and half duplex that it does not list, leave it open whether there is a link.
 */
export function settleLink(a: LineSetting, b: LineSetting): readonly [SettledEnd, SettledEnd] {
  const speeds = [...new Set([a, b].flatMap(({ onlyMbps }) => onlyMbps ?? []))];
  const [speedMbps] = speeds;
  if (speeds.length > 1) {
    const known = a.negotiates !== undefined && b.negotiates !== undefined;
    return known
      ? down(`its ends are set to ${speeds.join(' and ')} Mb/s`)
      : both(unknown('whether both ends come to one speed is not known'));
  }
  if (speedMbps === undefined)
    return both(
      unknown(
        a.negotiates === true && b.negotiates === true
          ? 'negotiated anew: known once the link is up again'
          : 'the speed that one end is set to is not known',
      ),
    );
  return atOneSpeed(speedMbps, a, b);
}

function atOneSpeed(
  speedMbps: number,
  a: LineSetting,
  b: LineSetting,
): readonly [SettledEnd, SettledEnd] {
  const does = [a, b].map((end) => canDo(end, speedMbps));
  if (does.includes(false)) return down(`one of its ends does not do ${speedMbps} Mb/s`);
  const isSet = a.onlyMbps !== undefined && b.onlyMbps !== undefined;
  if (a.negotiates === undefined || b.negotiates === undefined) {
    if (!isSet || a.negotiates !== b.negotiates)
      return both(unknown('whether the other end negotiates is not known'));
  }
  if (does.includes(undefined))
    return both(unknown(`whether both ends can do ${speedMbps} Mb/s was not read`));
  if (a.negotiates === b.negotiates)
    return a.negotiates === false ? bothForced(speedMbps, a, b) : negotiated(speedMbps, a, b);
  if (speedMbps > parallelMaxMbps)
    return both(
      unknown('negotiation is on at one end alone: whether the link comes up is not known'),
    );
  if (cannotHalf(a.negotiates ? a : b, speedMbps))
    return both(
      unknown(
        `the end that negotiates finds the speed alone and would run in half duplex, which it does not list at ${speedMbps} Mb/s: no link, or one end in half duplex and one in full`,
      ),
    );
  const half: SettledEnd = { facts: { speedMbps, duplex: 'half' } };
  return a.negotiates ? [half, forced(b, speedMbps)] : [forced(a, speedMbps), half];
}

/** Whether an end does a speed; undefined: nothing that was read tells. */
function canDo({ speedsMbps, silentMbps = [] }: LineSetting, wanted: number): boolean | undefined {
  if (speedsMbps === undefined) return undefined;
  if (speedsMbps.includes(wanted)) return true;
  return silentMbps.includes(wanted) ? undefined : false;
}

function cannotHalf({ halfMbps }: LineSetting, speedMbps: number): boolean {
  return halfMbps !== undefined && !halfMbps.includes(speedMbps);
}

/** Twisted pair of 1 Gb/s and more settles its clock by negotiation, and has no link without. */
function bothForced(
  speedMbps: number,
  a: LineSetting,
  b: LineSetting,
): readonly [SettledEnd, SettledEnd] {
  const isPair = a.twistedPair === true || b.twistedPair === true;
  return isPair && speedMbps > parallelMaxMbps
    ? both(
        unknown(
          `negotiation is off at both ends, and twisted pair needs it at ${speedMbps} Mb/s: whether the link comes up is not known`,
        ),
      )
    : [forced(a, speedMbps), forced(b, speedMbps)];
}

function negotiated(speedMbps: number, a: LineSetting, b: LineSetting) {
  const duplexes = [a, b].flatMap(({ onlyDuplex }) => onlyDuplex ?? []);
  const duplex = duplexes.includes('half') ? 'half' : 'full';
  if (duplex === 'half' && (cannotHalf(a, speedMbps) || cannotHalf(b, speedMbps)))
    return down(`one of its ends does no half duplex at ${speedMbps} Mb/s`);
  return both({ facts: { speedMbps, duplex } });
}

function forced({ onlyDuplex }: LineSetting, speedMbps: number): SettledEnd {
  return { facts: { speedMbps, ...(onlyDuplex === undefined ? {} : { duplex: onlyDuplex }) } };
}

function down(why: string): readonly [SettledEnd, SettledEnd] {
  const gap: Gap = {
    reason: 'down',
    words: `no link: ${why}`,
    cause: settledCause,
  };
  return both({ gap, down: true });
}

function unknown(words: string): SettledEnd {
  return { gap: { reason: 'unasked', words, cause: settledCause }, down: false };
}

function both(end: SettledEnd): readonly [SettledEnd, SettledEnd] {
  return [end, end];
}
