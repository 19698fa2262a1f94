import type { FailureKind } from './failure.ts';

/** Octets of a reply that is aimed at: one datagram below the 1500 of any Ethernet. */
export const replyBytesAim = 1400;
/** Columns in one request. Fewer make fuller replies, more would waste the last repetition. */
export const columnsPerRequestMax = 6;
/** Values in one reply that are never exceeded, whatever their size. */
const valuesPerReplyMax = 128;
/** Largest request, in values, after whose timeout GETNEXT is tried instead. */
const smallBulkValues = 16;

/**
 * How much one agent is asked for at once: starts at what fills a datagram and only ever shrinks,
 * since an agent that could not do something will not learn it.
 */
export interface Pace {
  mode: 'bulk' | 'next';
  /** Values per request that the agent has not failed at. */
  valuesMax: number;
  /** Largest number of values that one reply brought. */
  provenValues: number;
  /** Octets of a reply that are no values: headers, community or security parameters. */
  readonly overheadBytes: number;
}

/** The pace to begin with: as much as fits one datagram. */
export function newPace(version: '2c' | '3'): Pace {
  const overheadBytes = version === '3' ? 150 : 60;
  return { mode: 'bulk', valuesMax: valuesPerReplyMax, provenValues: 0, overheadBytes };
}

/** Columns to put in the next request: as many as leave the fewest of `valuesMax` unused. */
export function columnsAtOnce(pace: Pace): number {
  if (pace.mode === 'next') return Math.min(columnsPerRequestMax, pace.valuesMax);
  const used = (columns: number) => columns * Math.floor(pace.valuesMax / columns);
  let best = 1;
  for (let columns = 2; columns <= columnsPerRequestMax; columns += 1) {
    if (used(columns) >= used(best)) best = columns;
  }
  // While a datagram is the limit, not the agent, fewer values than allowed fit anyway.
  return pace.valuesMax >= valuesPerReplyMax ? columnsPerRequestMax : best;
}

/** Repetitions that fill one datagram with rows of `rowBytes`, at most `rowsLeft`. */
export function repetitionsFor(pace: Pace, columns: number, rowBytes: number, rowsLeft: number) {
  const fitting = Math.floor((replyBytesAim - pace.overheadBytes) / rowBytes);
  const allowed = Math.floor(pace.valuesMax / columns);
  return Math.max(1, Math.min(fitting, allowed, rowsLeft));
}

/**
 * Asks for less after a failure at `values` in one request. False: there is no less to ask for,
 * or less would not help.
 */
export function slowDown(pace: Pace, kind: FailureKind, values: number): boolean {
  if (kind === 'timeout') return slowDownAfterSilence(pace, values);
  if (kind !== 'too-big' && kind !== 'empty') return false;
  if (values > 1) {
    pace.valuesMax = Math.floor(values / 2);
    return true;
  }
  if (pace.mode === 'next') return false;
  pace.mode = 'next';
  pace.valuesMax = 1;
  return true;
}

// Some agents say nothing where they ought to say tooBig. Each try costs seconds, so the steps
// are large, and an agent that answered this much before is taken to be gone.
function slowDownAfterSilence(pace: Pace, values: number): boolean {
  if (pace.mode === 'next' || values <= pace.provenValues) return false;
  if (values > smallBulkValues) {
    pace.valuesMax = Math.floor(values / 3);
  } else {
    pace.mode = 'next';
    pace.valuesMax = columnsPerRequestMax;
  }
  return true;
}
