import type { OfferedModes } from './link-mode.ts';

/** What one side of a link says of itself. */
export interface SideModes {
  /** What it offers. Absent: not read. */
  readonly advertised?: OfferedModes;
  /** What it could offer. Absent: not read. */
  readonly capable?: OfferedModes;
  /** Absent: not read. */
  readonly autoNegotiation?: boolean;
}

/** A side that does not offer the wanted speed, and why: it is set so, or it cannot. */
export interface SideLimit {
  readonly side: 'local' | 'partner';
  /** `unread`: what the side could do is not known. */
  readonly by: 'advertisement' | 'capability' | 'unread';
}

/** How a side falls short of a wanted speed; undefined where it does not, or may not. */
export function sideLimit(
  side: SideLimit['side'],
  { advertised, capable }: SideModes,
  wantedMbps: number,
): SideLimit | undefined {
  if (advertised === undefined || listReaches(advertised, wantedMbps) !== 'no') return undefined;
  const could = capable === undefined ? 'unsaid' : listReaches(capable, wantedMbps);
  const by = could === 'yes' ? 'advertisement' : could === 'no' ? 'capability' : 'unread';
  return { side, by };
}

/**
 * The list has a mode of at least this speed; `unsaid` where it may have one of this speed unseen.
 * A faster one unseen is not thought of: capability bits can never say 2500, and a port that
 * offers that offers 1000 too (common practice).
 */
export function listReaches(list: OfferedModes, wantedMbps: number): 'yes' | 'no' | 'unsaid' {
  if (list.modes.some((mode) => mode.speedMbps >= wantedMbps)) return 'yes';
  return listMayHide(list, wantedMbps) ? 'unsaid' : 'no';
}

/** The list may hold a mode of this speed in Mb/s without our seeing it. */
export function listMayHide({ aside, silentMbps }: OfferedModes, speedMbps: number): boolean {
  return aside.length > 0 || silentMbps.includes(speedMbps);
}
