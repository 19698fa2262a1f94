import type { Gap } from '../facts/gap.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { LineMedium } from './line-medium.ts';

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
  /** Speeds that the list of those has no name for, so that its silence tells nothing. */
  readonly silentMbps?: readonly number[];
  /** By speed, the one duplex in which it does or offers that, where its whole list has no other. */
  readonly oneDuplexAt?: ReadonlyMap<number, 'full' | 'half'>;
  /** Absent: not known. */
  readonly medium?: LineMedium;
}

/** What an end runs at once the link has settled. */
export type SettledEnd =
  | { readonly facts: Pick<PortReadFacts, 'speedMbps' | 'duplex'> }
  | { readonly gap: Gap; readonly down: boolean };

/** The cause of all that is not known of a link since a change sets it anew. */
export const settledCause = 'links that the change sets anew';

/** Above this speed in Mb/s twisted pair has no way without negotiation (IEEE 802.3, 40.5.1). */
const parallelMaxMbps = 100;
/** Above this speed in Mb/s there is no half duplex (IEEE 802.3, clauses 44 and 125). */
export const halfDuplexMaxMbps = 1000;

/**
 * What both ends run at once they are set: two that negotiate take what both offer; two that do not
 * need one speed, and on twisted pair above 100 Mb/s nobody knows what they come to, since master
 * and slave are negotiated (IEEE 802.3, 28D and 40.5.1); one that does not and one that does come up
 * at 10 and 100 Mb/s by parallel detection, in half duplex at the end that negotiates (28.2.3.1). A
 * speed that an end is not known to do leaves it open whether there is a link.
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
  const wrong = [a, b].flatMap(({ onlyDuplex, ...end }) =>
    end.negotiates !== false || onlyDuplex === undefined || allows(end, speedMbps, onlyDuplex)
      ? []
      : onlyDuplex,
  );
  if (wrong.length > 0)
    return down(`one of its ends does no ${wrong.join(' or ')} duplex at ${speedMbps} Mb/s`);
  if (a.negotiates === b.negotiates)
    return a.negotiates === false ? bothForced(speedMbps, a, b) : negotiated(speedMbps, a, b);
  const [first, second] = a.negotiates ? detected(speedMbps, a, b) : detected(speedMbps, b, a);
  return a.negotiates ? [first, second] : [second, first];
}

/** Both without negotiation; what runs over anything but twisted pair may be set so. */
function bothForced(speedMbps: number, a: LineSetting, b: LineSetting) {
  const media = [a, b].flatMap(({ medium }) => medium ?? []);
  if (speedMbps > parallelMaxMbps && !media.includes('other'))
    return both(
      unknown(
        `${media.length > 0 ? '1000BASE-T and faster copper needs' : 'it may be twisted pair, where 1000BASE-T and faster needs'} negotiation (IEEE 802.3, 28D and 40.5.1), and it is off at both ends: whether a link comes up is not known`,
      ),
    );
  return [forced(a, speedMbps), forced(b, speedMbps)] as const;
}

/** One end negotiates and hears that the other does not. */
function detected(speedMbps: number, auto: LineSetting, fixed: LineSetting) {
  if (speedMbps > parallelMaxMbps)
    return both(
      unknown('negotiation is on at one end alone: whether the link comes up is not known'),
    );
  if (!allows(auto, speedMbps, 'half'))
    return both(
      unknown(
        `negotiation is on at one end alone, which then takes half duplex (IEEE 802.3, 28.2.3.1) and offers none at ${speedMbps} Mb/s: no link comes up, or one with different duplex at its ends`,
      ),
    );
  const half: SettledEnd = { facts: { speedMbps, duplex: 'half' } };
  return [half, forced(fixed, speedMbps)] as const;
}

/** False where nothing lets an end run in a duplex at a speed. */
function allows(
  { onlyDuplex, oneDuplexAt }: LineSetting,
  speedMbps: number,
  duplex: 'full' | 'half',
): boolean {
  if (duplex === 'half' && speedMbps > halfDuplexMaxMbps) return false;
  return [onlyDuplex, oneDuplexAt?.get(speedMbps)].every((one = duplex) => one === duplex);
}

/** Whether an end does a speed; undefined: nothing that was read tells. */
function canDo({ speedsMbps, silentMbps = [] }: LineSetting, wanted: number): boolean | undefined {
  if (speedsMbps === undefined) return undefined;
  if (speedsMbps.includes(wanted)) return true;
  return silentMbps.includes(wanted) ? undefined : false;
}

/** The best that both offer: full duplex before half (IEEE 802.3, 28B.3). */
function negotiated(speedMbps: number, a: LineSetting, b: LineSetting) {
  const duplex = (['full', 'half'] as const).find((each) =>
    [a, b].every((end) => allows(end, speedMbps, each)),
  );
  return duplex === undefined
    ? down(`its ends offer no duplex in common at ${speedMbps} Mb/s`)
    : both({ facts: { speedMbps, duplex } });
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
