import { type PowerReading, powerLevel } from './optical-power.ts';
import { type OpticalWindow, opticalWindow } from './optical-window.ts';

/** A module's own limits for one power, in dBm (SFF-8472, page A2h); absent: not told. */
export interface PowerThresholds {
  readonly lowAlarmDbm?: number;
  readonly lowWarningDbm?: number;
  readonly highWarningDbm?: number;
  readonly highAlarmDbm?: number;
}

/** One power of one module. */
export interface OpticReading extends PowerReading {
  /** `rx`: what it receives; `tx`: what it sends. */
  readonly direction: 'rx' | 'tx';
  readonly thresholds?: PowerThresholds;
  /** `10GBASE-SR`; absent: not known, and the standard's window cannot stand in. */
  readonly phy?: string;
}

/** What a power means, and by which limit. */
export interface OpticVerdict {
  readonly verdict: 'low' | 'high' | 'ok' | 'no-light' | 'unknown';
  /** To the nearest limit in dB, negative beyond it; absent: no light, or no limit, or no power. */
  readonly marginDb?: number;
  /** Whose limit that was; the standard's come from memory or a secondary source. */
  readonly against?: 'module warning' | 'module alarm' | 'standard';
  readonly limitDbm?: number;
}

interface Edge {
  readonly dbm: number;
  readonly against: NonNullable<OpticVerdict['against']>;
}

/**
 * Judges a power by the module's own warning limits, else its alarm limits, else the window of its
 * PHY, for each side apart. Limits that cross each other, as modules without them have, count as
 * not told. What a module measures may be off by 3 dB (SFF-8472, from memory), so a small margin
 * proves nothing. `unknown`: no power that can be believed, or no limit on either side.
 */
export function judgeOptic(reading: OpticReading): OpticVerdict {
  const level = powerLevel(reading);
  if (level === 'no-light' || level === 'unknown') return { verdict: level };
  const { low, high } = edgesOf(reading);
  const under = low === undefined ? undefined : verdictAt('low', level.dbm - low.dbm, low);
  const over = high === undefined ? undefined : verdictAt('high', high.dbm - level.dbm, high);
  const [nearest] = [under, over]
    .filter((found) => found !== undefined)
    .sort((a, b) => a.marginDb - b.marginDb);
  if (nearest === undefined) return { verdict: 'unknown' };
  // One side alone can accuse and cannot acquit.
  const oneSided = under === undefined || over === undefined;
  return nearest.verdict === 'ok' && oneSided ? { ...nearest, verdict: 'unknown' } : nearest;
}

function verdictAt(side: 'low' | 'high', exactMarginDb: number, edge: Edge) {
  // Adding 0 makes a rounded -0 plain.
  const marginDb = Math.round(exactMarginDb * 100) / 100 + 0;
  const verdict = marginDb < 0 ? side : ('ok' as const);
  return { verdict, marginDb, against: edge.against, limitDbm: edge.dbm };
}

interface Edges {
  readonly low?: Edge | undefined;
  readonly high?: Edge | undefined;
}

function edgesOf({ direction, thresholds = {}, phy }: OpticReading): Edges {
  const own = ordered(thresholds) ? thresholds : {};
  const standard = phy === undefined ? undefined : opticalWindow(phy);
  return {
    low:
      ownEdge(own.lowWarningDbm, own.lowAlarmDbm) ??
      (standard && { dbm: leastOf(standard, direction), against: 'standard' }),
    high:
      ownEdge(own.highWarningDbm, own.highAlarmDbm) ??
      (standard && { dbm: mostOf(standard, direction), against: 'standard' }),
  };
}

function ownEdge(warning: number | undefined, alarm: number | undefined): Edge | undefined {
  if (warning !== undefined) return { dbm: warning, against: 'module warning' };
  return alarm === undefined ? undefined : { dbm: alarm, against: 'module alarm' };
}

function leastOf({ rxLeast, txLeast }: OpticalWindow, direction: 'rx' | 'tx'): number {
  return (direction === 'rx' ? rxLeast : txLeast).dbm;
}

function mostOf({ rxMost, txMost }: OpticalWindow, direction: 'rx' | 'tx'): number {
  return (direction === 'rx' ? rxMost : txMost).dbm;
}

/** Low alarm <= low warning < high warning <= high alarm, of those that are told. */
function ordered(told: PowerThresholds): boolean {
  const lows = [told.lowAlarmDbm, told.lowWarningDbm].filter((dbm) => dbm !== undefined);
  const highs = [told.highWarningDbm, told.highAlarmDbm].filter((dbm) => dbm !== undefined);
  if ([...lows, ...highs].some((dbm) => !Number.isFinite(dbm))) return false;
  return rising(lows) && rising(highs) && Math.max(...lows) < Math.min(...highs);
}

function rising(values: readonly number[]): boolean {
  return values.every((value, at) => value >= (values[at - 1] ?? value));
}
