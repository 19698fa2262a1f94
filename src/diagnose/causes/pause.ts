import { pausedShare, pausedShareMax } from '../../ethernet/paused-share.ts';
import type { SeenFact } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { isVirtualLink, type LinkSide } from '../link-view.ts';
import { elementIds, type LinkRule } from './cause-rule.ts';

/** One end sends pause frames that the other does not honour. */
export const pauseApart: LinkRule = (view) => {
  if (isVirtualLink(view)) return [];
  return view.sides
    .filter(({ end, far }) => end.facts.pauseTx === true && far.facts.pauseRx === false)
    .map(({ end, far }) => ({
      kind: 'pause',
      proof: 'is',
      what: `flow control that is set apart: ${end.id} asks for pauses that ${far.id} ignores`,
      element: elementIds.end(far),
      for: [
        readFact(end, `${end.id} sends pause frames`, 'pauseTx'),
        readFact(far, `${far.id} does not honour them`, 'pauseRx'),
      ],
      remedy: 'set flow control alike at both ends, one way for a whole segment',
      settledBy: 'set flow control alike and compare dropped frames before and after',
    }));
};

/** A far end that keeps this one waiting, such as a slow client behind a fast port. */
export const pauseStorm: LinkRule = (view) => {
  if (isVirtualLink(view)) return [];
  return view.sides.flatMap((side) => {
    const seen = stoodStill(side);
    if (seen === undefined) return [];
    const { end, far } = side;
    return [
      {
        kind: 'pause',
        proof: 'likely',
        what: `pause frames from ${far.id}: a slow receiver behind it keeps ${end.id} waiting`,
        element: elementIds.end(far),
        for: [seen],
        remedy: `find the slow receiver behind ${far.id}; let a switch drop rather than pause`,
        settledBy: `count the pause frames at ${end.id} over ten minutes with and without the slow receiver`,
      } as const,
    ];
  });
};

function stoodStill({ end }: LinkSide): SeenFact | undefined {
  const { rxPauseFrames, speedMbps } = end.facts;
  const uptime = uptimeOf(end);
  if (rxPauseFrames === undefined || speedMbps === undefined || uptime === undefined)
    return undefined;
  if (pausedShare(rxPauseFrames, speedMbps, uptime) < pausedShareMax) return undefined;
  const rate = Math.round((rxPauseFrames / uptime) * 10) / 10;
  return readFact(
    end,
    `${end.id} received ${rxPauseFrames} pause frames, ${rate} a second over its uptime`,
    'rxPauseFrames',
  );
}

function uptimeOf(end: EndView): number | undefined {
  const uptime = end.node?.survey?.facts.uptimeSeconds;
  return uptime === undefined || uptime <= 0 ? undefined : uptime;
}
