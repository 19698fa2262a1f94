import type { SitePath } from '../site/types.ts';
import { clean, columnsOf } from './layout.ts';
import type { Paint } from './paint.ts';

/** How a report is to be written. */
export interface DrawOptions {
  /** Columns to write in. */
  readonly width: number;
  readonly verbose: boolean;
  readonly paint: Paint;
}

/** The measures that all hops of one path share, so that their openings compare. */
export interface Measure {
  /** The opening stands beside the name of its hop; false: under it. */
  readonly beside: boolean;
  readonly nameColumns: number;
  readonly openingColumns: number;
  /** The declared packet; absent: none is declared. */
  readonly demandBytes: number | undefined;
  /** The packet that is drawn at full width; absent: nothing is known. */
  readonly fullBytes: number | undefined;
  readonly markNarrowest: boolean;
  readonly markSlowest: boolean;
}

const besideColumnsMin = 64;
const openingColumnsMax = 26;
const nameColumnsMax = 24;

/** Measures of a path for a page of `width` columns. */
export function measureOf(path: SitePath, width: number): Measure {
  const { declaredMtuBytes } = path.subject.facts;
  const demandBytes = typeof declaredMtuBytes === 'number' ? declaredMtuBytes : undefined;
  const known = path.hops.flatMap((hop) => hop.clearance.atMostBytes ?? []);
  const names = path.hops.map((hop) => columnsOf(clean(hop.port.id)));
  const widest = known.length === 0 ? undefined : Math.max(...known);
  const fullBytes = demandBytes ?? widest;
  return {
    beside: width >= besideColumnsMin,
    nameColumns: Math.min(nameColumnsMax, Math.max('declared'.length, ...names)),
    openingColumns: Math.min(openingColumnsMax, Math.max(16, width - 6)),
    demandBytes,
    fullBytes,
    markNarrowest: fullBytes !== undefined && known.some((bytes) => bytes < fullBytes),
    markSlowest: isUneven(path),
  };
}

/** Whether "the slowest hop" says anything: speeds differ, or one is below the declared. */
function isUneven(path: SitePath): boolean {
  const speeds = path.hops.flatMap((hop) => hop.speedMbps ?? []);
  return path.hops.some(({ port, speedMbps }) => {
    if (speedMbps === undefined) return false;
    const { declaredSpeedMbps } = port.subject.facts;
    const declared = typeof declaredSpeedMbps === 'number' ? declaredSpeedMbps : speedMbps;
    return speedMbps < declared || speeds.some((other) => other > speedMbps);
  });
}
