import { busFeeds } from '../../ethernet/host-bus.ts';
import { busFromText } from '../../ethernet/host-bus-text.ts';
import { rateWords } from '../../ethernet/run-brake.ts';
import type { Certainty, SeenFact } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { isVirtualLink, type LinkView } from '../link-view.ts';
import { elementIds, type LinkRule } from './cause-rule.ts';

/** A bus that carries less than the port: the link is up at full speed and the data is not. */
export const bus: LinkRule = (view) => {
  if (isVirtualLink(view)) return [];
  return view.ends.flatMap((end) => {
    const verdict = judgeBus(view, end);
    if (verdict === undefined) return [];
    return [
      {
        kind: 'bus',
        proof: verdict.proof,
        what: `the bus of ${end.id}, ${end.facts.busText ?? 'slower than its port'}`,
        element: elementIds.bus(end),
        for: [readFact(end, verdict.words, 'busText'), ...belowItsBest(end)],
        remedy: /USB/.test(end.facts.busText ?? '')
          ? 'move the adapter to a faster USB port, without a hub between'
          : 'move the adapter to a slot with more lanes or of a later generation, without a riser',
        settledBy: `move the adapter of ${end.id} to another slot or port and read its bus again`,
      } as const,
    ];
  });
};

function judgeBus(
  view: LinkView,
  end: EndView,
): { readonly proof: Certainty; readonly words: string } | undefined {
  const wanted = Math.max(view.ratedMbps ?? 0, end.facts.speedMbps ?? 0);
  if (wanted === 0) return undefined;
  const known = busFromText(end.facts.busText ?? '');
  if (known !== undefined) {
    const { feeds, words } = busFeeds(known, wanted);
    return feeds === true ? undefined : { proof: feeds === false ? 'is' : 'check', words };
  }
  const { busMbps } = end.facts;
  if (busMbps === undefined || busMbps >= wanted) return undefined;
  const words = `the bus carries ${rateWords(busMbps)} at most: too little for ${rateWords(wanted)}`;
  return { proof: 'is', words };
}

function belowItsBest(end: EndView): readonly SeenFact[] {
  const { busMbps, busMaxMbps } = end.facts;
  if (busMbps === undefined || busMaxMbps === undefined || busMaxMbps <= busMbps) return [];
  return [
    readFact(
      end,
      `slot and adapter could agree on ${rateWords(Math.round(busMaxMbps))}`,
      'busMaxMbps',
    ),
  ];
}
