import { rateWords } from '../../ethernet/run-brake.ts';
import { highestMbps } from '../../site/port-modes.ts';
import type { SeenFact } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import type { LinkView } from '../link-view.ts';

/** Ends whose lists keep the link slow: by what they offer, or by what could not be read of them. */
export function limitedEnds(view: LinkView, by: 'advertisement' | 'unread'): readonly EndView[] {
  return view.sides.flatMap(({ cause, end, far }) => {
    if (cause?.kind !== 'limited-by') return [];
    return cause.limits
      .filter((limit) => limit.by === by)
      .map(({ side }) => (side === 'local' ? end : far));
  });
}

/** Each end once. */
export function uniqueEnds(ends: readonly EndView[]): readonly EndView[] {
  return ends.filter((end, at) => ends.findIndex(({ id }) => id === end.id) === at);
}

/** What an end offers, by its own word and as its partner hears it. */
export function offerFacts(view: LinkView, end: EndView): readonly SeenFact[] {
  const heard = view.sides.find(({ far }) => far === end)?.end;
  if (end.facts.autoNegotiation === false)
    return [readFact(end, `negotiation is switched off at ${end.id}`, 'autoNegotiation')];
  const own = highestMbps(end.advertised);
  const seen = highestMbps(heard?.partner);
  return [
    ...(own === undefined
      ? []
      : [readFact(end, `${end.id} offers ${rateWords(own)} at most`, 'advertisedModes')]),
    ...(seen === undefined || heard === undefined
      ? []
      : [readFact(heard, `${heard.id} hears ${rateWords(seen)} at most`, 'partnerModes')]),
  ];
}

/** The highest speed that an end says it can. */
export function canFacts(end: EndView): readonly SeenFact[] {
  const most = highestMbps(end.capable);
  if (most === undefined) return [];
  return [readFact(end, `${end.id} can ${rateWords(most)}`, 'supportedModes')];
}

/** An end that offers the speed by its own word: what its partner hears is then no setting of it. */
export function saysItOffers({ ratedMbps = 0 }: LinkView, end: EndView): boolean {
  return (highestMbps(end.advertised) ?? 0) >= ratedMbps;
}
