import { explainFigure, type FigureDiagnosis } from '../diagnose/explain-figure.ts';
import type { FigureGiven } from '../diagnose/explanation.ts';
import { type FigurePlace, pathGiven, placeFigure } from '../diagnose/place-figure.ts';
import { type TransferLimit, transferLimits } from '../diagnose/transfer-limits.ts';
import { type Ceiling, ceilingOf } from '../ethernet/ceiling.ts';
import { standardPacketBytes } from '../ethernet/frame-size.ts';
import { type TransferMetrics, transferMetrics } from '../ethernet/transfer-metrics.ts';
import { reachesGoodput } from '../facts/newest-proofs.ts';
import type { TransferMeasured } from '../probe/transfer-measured.ts';
import type { SiteDirection, SitePath } from '../site/types.ts';
import { exitStatuses } from './exit-status.ts';

/** One direction between two nodes. */
export interface TransferWay {
  readonly from: string;
  readonly to: string;
  /** Literal address of the receiver. */
  readonly toAddress: string;
}

/** What was measured in one direction and what it says, or why nothing was. */
export type TransferDirection = TransferWay &
  (
    | { readonly ok: true; readonly measured: TransferMeasured; readonly reckoned: Reckoned }
    | { readonly ok: false; readonly seen: string; readonly remedy: string }
  );

/** What follows from the figures of one direction. */
export interface Reckoned {
  /** Of the path's speed and the packet that was really used; absent: no speed is known. */
  readonly ceiling?: Ceiling;
  readonly metrics: TransferMetrics;
  readonly limits: readonly TransferLimit[];
  readonly given: FigureGiven;
  /** Explains nothing where a limit was measured: a figure alone can only guess at another. */
  readonly diagnosis: FigureDiagnosis;
  readonly place: FigurePlace;
  /**
   * Whether the goodput that the intent declares was reached; absent: none is declared, or the
   * transfer was too short to tell or did not run to its end.
   */
  readonly reachesDeclared?: boolean;
}

/** A transfer between two nodes, one direction or both. */
export interface TransferResult {
  readonly path: string;
  /** That the intent wants, in Mb/s; absent: it declares none. */
  readonly declaredMbps?: number;
  readonly directions: readonly TransferDirection[];
  readonly interrupted: boolean;
}

/** What the figures of one direction say of its path. */
export function reckon(
  measured: TransferMeasured,
  path: SitePath,
  {
    ipVersion,
    directions,
  }: { readonly ipVersion: 4 | 6; readonly directions: readonly SiteDirection[] },
): Reckoned {
  const declared = pathGiven(path);
  const stack = { ipVersion, timestamps: measured.packet?.timestamps ?? true, tags: 0 };
  const packetBytes = measured.packet?.bytes ?? declared.packetBytes ?? standardPacketBytes;
  const ceiling =
    declared.rateMbps === undefined
      ? undefined
      : ceilingOf({ rateMbps: declared.rateMbps, packetBytes, stack });
  const { bytes, whole, tookSeconds, goodputMbps, transmitted, idle, loadedMs, waited, from, to } =
    measured;
  const ceilingMbps = ceiling?.goodputMbps;
  const metrics = transferMetrics({
    ...{ bytes, tookSeconds, ceilingMbps, transmitted, loadedMs },
    idleMs: idle?.ms,
  });
  const given: FigureGiven = {
    ...declared,
    stack,
    ...(idle === undefined ? {} : { rttMs: idle.ms }),
  };
  const limits = transferLimits({
    ...{ goodputMbps, ceilingMbps, waited, efficiencyPercent: metrics.efficiencyPercent },
    from: { node: from.node, ...from.cpu },
    to: { node: to.node, ...to.cpu },
  });
  const found = explainFigure({ mbps: goodputMbps, roundingShare: 0 }, given);
  const diagnosis = limits.some(isMeasured) ? { ...found, explanations: [] } : found;
  const wanted = path.declared.goodputMbps;
  const reachesDeclared = wanted === undefined ? undefined : reachesGoodput(measured, wanted);
  return {
    ...(ceiling === undefined ? {} : { ceiling }),
    ...{ metrics, limits, given, diagnosis },
    place: placeFigure(path, diagnosis.explanations[0], { given, directions }),
    ...(reachesDeclared === undefined || !whole ? {} : { reachesDeclared }),
  };
}

/** Whether it was measured that something other than the line held a transfer back. */
function isMeasured({ kind, certainty }: TransferLimit): boolean {
  return kind !== 'line' && certainty === 'is';
}

/**
 * 1 where a whole transfer stayed below the declared goodput; else 2 where a direction was not
 * measured to its end, or too short a time to tell whether it reaches what is declared; else 0.
 */
export function transferStatus({ directions, interrupted, declaredMbps }: TransferResult): number {
  const below = directions.some((each) => each.ok && each.reckoned.reachesDeclared === false);
  if (below) return exitStatuses.broken;
  if (interrupted) return exitStatuses.interrupted;
  const unknown =
    directions.length === 0 ||
    directions.some(
      (each) =>
        !each.ok ||
        !each.measured.whole ||
        (declaredMbps !== undefined && each.reckoned.reachesDeclared === undefined),
    );
  return unknown ? exitStatuses.undetermined : exitStatuses.met;
}
