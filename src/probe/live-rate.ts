import type { Gap } from '../facts/gap.ts';
import type { Known, LiveCount, LiveLook, LiveLooks } from './live-types.ts';

/** What a counter moved by from one look to the next, and in how many seconds. */
export interface Moved {
  readonly by: number;
  readonly seconds: number;
}

/** What the reckoning needs to know of both looks besides the counter. */
export interface BetweenLooks {
  /** Seconds from the one to the other; above zero. */
  readonly seconds: number;
  /** Why counters of the two are not to be compared; absent: they are. */
  readonly anew?: Gap;
}

/**
 * What a counter moved by. One that is lower than before has begun anew after its last number (RFC
 * 2578 7.1.6: a Counter32 after 2^32 - 1; a Counter64 alike), unless it would have had to count more
 * than half of its numbers on the way: then it was set back, and what it counted is not known.
 */
export function movedBy(
  before: Known<LiveCount>,
  now: Known<LiveCount>,
  { seconds, anew }: BetweenLooks,
): Known<Moved> {
  if (anew !== undefined) return { gap: anew };
  if (before.gap !== undefined) return before;
  if (now.gap !== undefined) return now;
  const { bits, count } = now.value;
  const all = 2n ** BigInt(bits);
  const by = (count - before.value.count + all) % all;
  if (bits !== before.value.bits || by >= all / 2n) {
    return { gap: { reason: 'doubtful', words: 'the counter went back' } };
  }
  return { value: { by: Number(by), seconds } };
}

/** Time between two looks, and whether the port's counters went on in it. */
export function betweenLooks(
  before: { readonly looks: LiveLooks; readonly look: LiveLook },
  now: { readonly looks: LiveLooks; readonly look: LiveLook },
): BetweenLooks | undefined {
  const seconds = secondsBetween(before.looks, now.looks);
  const anew = beganAnew(before, now);
  if (anew !== undefined) return { seconds: Math.max(seconds, 1), anew };
  // The very same answer of a node twice says nothing of a rate.
  return seconds > 0 ? { seconds } : undefined;
}

/** sysUpTime counts hundredths of a second in 32 bits (RFC 3418): 497 days. */
const ticksSecondsMax = 2 ** 32 / 100;

/**
 * Whether a node started anew between two looks: its time since its start is less than before.
 * One that only came to the end of its numbers has run on.
 */
export function restartedBetween(before: LiveLooks, now: LiveLooks): boolean {
  const [then, since] = [before.upSeconds.value, now.upSeconds.value];
  if (then === undefined || since === undefined || since >= then) return false;
  const passed = (now.atMs - before.atMs) / 1000;
  const wrapped = since + ticksSecondsMax - then;
  return Math.abs(wrapped - passed) > Math.max(5, passed);
}

function secondsBetween(before: LiveLooks, now: LiveLooks): number {
  const [then, since] = [before.upSeconds.value, now.upSeconds.value];
  if (then !== undefined && since !== undefined && since >= then) return since - then;
  return (now.atMs - before.atMs) / 1000;
}

function beganAnew(
  before: { readonly looks: LiveLooks; readonly look: LiveLook },
  now: { readonly looks: LiveLooks; readonly look: LiveLook },
): Gap | undefined {
  if (restartedBetween(before.looks, now.looks)) {
    return { reason: 'doubtful', words: 'the node started anew' };
  }
  const [then, since] = [before.look.discontinuity.value, now.look.discontinuity.value];
  if (then !== undefined && since !== undefined && then !== since) {
    return { reason: 'doubtful', words: 'the node started the counters of the port anew' };
  }
  return undefined;
}
