import { standardPacketBytes } from '../ethernet/frame-size.ts';
import type { Site } from '../site/types.ts';
import { type WaysStage, type WorkedOut, workOutWay } from './one-way.ts';
import type { Rehearsal } from './rehearsal.ts';
import { unknowns } from './remarks.ts';
import { pathWays } from './way-paths.ts';
import type { SegmentWays } from './ways-types.ts';

/** Segments of one change up to which the ways are worked out; each plans the site twice. */
const waysSegmentsMax = 8;

/**
 * Both ways to make all of a segment agree, of every segment whose MTU the change moves: all at the
 * largest and all at the smallest of what is declared before it, what after it, and 1500.
 */
export function waysOf(stage: WaysStage): Pick<Rehearsal, 'ways' | 'waysLeftOut'> {
  const { segments } = stage.planned;
  const ways = segments.slice(0, waysSegmentsMax).flatMap((name) => segmentWays(stage, name) ?? []);
  return { ways, waysLeftOut: segments.slice(waysSegmentsMax) };
}

/** Undefined where the change moves nothing of the segment, or where both sizes are one. */
function segmentWays(stage: WaysStage, segment: string): SegmentWays | undefined {
  const { site, planned } = stage;
  const before = declaredBytes(site.intent, segment);
  const after = declaredBytes(planned.intent, segment);
  if (after === undefined) return undefined;
  const sizes = [after, before ?? after, standardPacketBytes];
  const most = Math.max(...sizes);
  const least = Math.min(...sizes);
  if (most === least) return undefined;
  const larger = workOutWay(stage, { segment, bytes: most, isAsked: after === most });
  const smaller = workOutWay(stage, { segment, bytes: least, isAsked: after === least });
  if (before === after && isIdle(after === most ? larger : smaller)) return undefined;
  return {
    segment,
    larger: larger.way,
    smaller: smaller.way,
    unread: unknowns(stage.index, { segments: [segment], steps: [] }).map(({ on }) => on),
    paths: pathWays(site, segment, { larger, smaller }),
  };
}

function declaredBytes({ segments }: Site['intent'], segment: string): number | undefined {
  return segments.find(({ name }) => name === segment)?.mtuBytes;
}

/** The segment is declared as before, and every port of it is as declared already. */
function isIdle({ way }: WorkedOut): boolean {
  return way.steps + way.impossible === 0;
}
