import type { Gap } from '../facts/gap.ts';
import { betweenLooks, type Moved, movedBy } from './live-rate.ts';
import {
  isMissing,
  type Known,
  type LiveCounter,
  type LiveLook,
  type LiveLooks,
  liveCounters,
} from './live-types.ts';

/** Frames with errors since the look before, or why that is not known. */
export type ErrorRates = Readonly<Record<LiveCounter, Known<Moved>>>;

/** Errors that were told and are not over. */
export interface Erring {
  readonly toldPerSecond: number;
  readonly lastAtMs: number;
}

/** Seconds without errors after which they are over. */
const quietSeconds = 3;
/** Errors are told again once there are this many times more of them. */
const worseTimes = 10;

/** What the counters moved by from the look before to this one; undefined where there is none. */
export function ratesOf(
  { looks: then, look: last }: { readonly looks?: LiveLooks; readonly look?: LiveLook | Gap },
  looks: LiveLooks,
  look: LiveLook,
): ErrorRates | undefined {
  if (then === undefined || last === undefined || isMissing(last)) return undefined;
  const between = betweenLooks({ looks: then, look: last }, { looks, look });
  if (between === undefined) return undefined;
  const of = (name: LiveCounter) => movedBy(last.counters[name], look.counters[name], between);
  const [rx, tx, crc] = liveCounters;
  return { [rx]: of(rx), [tx]: of(tx), [crc]: of(crc) } as ErrorRates;
}

/** Frames with errors in a second, both ways; undefined where neither way is known. */
export function errorsPerSecond(rates: ErrorRates | undefined): number | undefined {
  const known = [rates?.rxErrors.value, rates?.txErrors.value].filter((each) => each !== undefined);
  if (known.length === 0) return undefined;
  return known.reduce((sum, { by, seconds }) => sum + by / seconds, 0);
}

/** What there is to tell of errors: that they began, are far more, or are over. */
export function errorChanges(
  { erring }: { readonly erring?: Erring | undefined },
  rates: ErrorRates | undefined,
  { atMs, look }: { readonly atMs: number; readonly look: LiveLook },
) {
  const perSecond = errorsPerSecond(rates);
  const kept = erring === undefined ? {} : { erring };
  const known = [rates?.rxErrors.value, rates?.txErrors.value];
  const more = known.reduce((sum, moved) => sum + (moved?.by ?? 0), 0);
  if (perSecond === undefined) return { changes: [], erring: kept, more };
  if (perSecond > 0) {
    const told = erring?.toldPerSecond ?? 0;
    const worse = told === 0 || perSecond >= told * worseTimes;
    return {
      changes: worse ? [{ kind: 'errors' as const, atMs, look, perSecond }] : [],
      erring: { erring: { toldPerSecond: worse ? perSecond : told, lastAtMs: atMs } },
      more,
    };
  }
  if (erring === undefined || atMs - erring.lastAtMs < quietSeconds * 1000) {
    return { changes: [], erring: kept, more };
  }
  return {
    changes: [{ kind: 'errors-over' as const, atMs, look }],
    erring: { erring: undefined },
    more,
  };
}
