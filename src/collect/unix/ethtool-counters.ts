import { present, textLines, wholeNumber } from './text.ts';

/** What is kept of a driver's own counters. */
export interface EthtoolCounters {
  readonly lateCollisions?: NamedCount;
  readonly rxSymbolErrors?: NamedCount;
  readonly rxPauseFrames?: NamedCount;
  readonly txPauseFrames?: NamedCount;
  readonly linkDownEvents?: NamedCount;
}

/** A count with the names that the driver gives it, in plain characters. */
export interface NamedCount {
  readonly value: number;
  readonly names: string;
}

// Every driver has names of its own. These are common practice, from memory; a counter by any
// other name is not taken, least of all one of a single priority, queue or duration.
const late = /^(?:(?:tx|mac)_)?(?:abort_)?late_?col(?:l|lisions?)?$/;
const symbol = /^(?:rx_)?(?:pcs_)?symbol_err(?:ors?)?(?:_phy)?$/;
const linkDown = /^link_down_(?:events|cnt)(?:_phy)?$/;
const pause = (way: 'rx' | 'tx') =>
  new RegExp(`^${way}_(?:mac_)?pause(?:_frames?|_frm|_pkts?|_packets|_ctrl(?:_phy)?)?$`);
const stopAndGo = (way: 'rx' | 'tx', word: 'xon' | 'xoff') =>
  new RegExp(`^(?:${way}_flow_control_${word}|(?:port\\.)?link_${word}_${way}(?:\\.nic)?)$`);

/** Reads the lines of `ethtool -S PORT` that the script keeps. */
export function parseEthtoolCounters(output: string): EthtoolCounters {
  const counts = countsOf(output);
  return present<EthtoolCounters>({
    lateCollisions: one(counts, late),
    rxSymbolErrors: one(counts, symbol),
    rxPauseFrames: pauseFrames(counts, 'rx'),
    txPauseFrames: pauseFrames(counts, 'tx'),
    linkDownEvents: one(counts, linkDown),
  });
}

function countsOf(output: string): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const line of textLines(output)) {
    const [, name, digits] = /^\s+([\w.[\]-]{1,64}): (\d{1,20})\s*$/.exec(line) ?? [];
    const value = wholeNumber(digits);
    if (name !== undefined && value !== undefined && !counts.has(name)) counts.set(name, value);
  }
  return counts;
}

function one(counts: ReadonlyMap<string, number>, pattern: RegExp): NamedCount | undefined {
  for (const [names, value] of counts) if (pattern.test(names)) return { value, names };
  return undefined;
}

/** Pause frames are counted in one, or those that stop apart from those that let go. */
function pauseFrames(
  counts: ReadonlyMap<string, number>,
  way: 'rx' | 'tx',
): NamedCount | undefined {
  const whole = one(counts, pause(way));
  if (whole !== undefined) return whole;
  const [go, stop] = [one(counts, stopAndGo(way, 'xon')), one(counts, stopAndGo(way, 'xoff'))];
  if (go === undefined || stop === undefined) return undefined;
  return { value: go.value + stop.value, names: `${go.names}, ${stop.names}` };
}
