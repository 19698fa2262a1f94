import type { Known, LiveCount, LiveLook, LiveLooks } from '../../src/probe/live-types.ts';

/** A value that a test leaves out. */
export const notTold = { gap: { reason: 'unsupported', words: 'not in this test' } } as const;

const known = <T>(value: T | undefined): Known<T> => (value === undefined ? notTold : { value });

/** A counter of 64 bits. */
export function count(value: number | undefined): Known<LiveCount> {
  return value === undefined ? notTold : { value: { count: BigInt(value), bits: 64 } };
}

/** What a look of a test has; a key with undefined is not told. */
export interface Sketch {
  readonly adminUp?: boolean | undefined;
  readonly up?: boolean | undefined;
  readonly speedMbps?: number | undefined;
  readonly duplex?: 'full' | 'half' | undefined;
  readonly partnerModes?: readonly string[];
  readonly mtuBytes?: number | undefined;
  readonly rxErrors?: number | undefined;
  readonly carrierChanges?: number;
  readonly changedAtSeconds?: number;
  readonly discontinuity?: number;
}

const usual: Sketch = {
  adminUp: true,
  up: true,
  speedMbps: 10_000,
  duplex: 'full',
  mtuBytes: 9000,
  rxErrors: 0,
};

/** A look at a port that is up at 10 Gb/s full, but for what the sketch says. */
export function look(sketch: Sketch): LiveLook {
  const all = { ...usual, ...sketch };
  const down = { gap: { reason: 'down', words: 'no link' } } as const;
  const ofLine = <T>(value: Known<T>): Known<T> => (all.up === false ? down : value);
  return {
    adminUp: known(all.adminUp),
    up: known(all.up),
    speedMbps: ofLine(known(all.speedMbps)),
    duplex: ofLine(known(all.duplex)),
    autoNegotiation: notTold,
    partnerModes: ofLine(known(all.partnerModes)),
    mtuBytes: known(all.mtuBytes),
    counters: { rxErrors: count(all.rxErrors), txErrors: notTold, rxCrcErrors: notTold },
    carrierChanges: known(all.carrierChanges),
    changedAtSeconds: known(all.changedAtSeconds),
    discontinuity: known(all.discontinuity),
  };
}

/** The frame of a look, so many seconds after 02:13:00. */
export function looksAt(seconds: number): LiveLooks {
  return { atMs: Date.UTC(2026, 10, 26, 2, 13, seconds), upSeconds: notTold, ports: new Map() };
}
