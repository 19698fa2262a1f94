import { rateWords } from '../../ethernet/run-brake.ts';
import type { CauseDraft, SeenFact } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { hasUnequalEnds, type LinkView } from '../link-view.ts';

/** One rule: the causes that it finds behind a link, with the facts for and against each. */
export type LinkRule = (view: LinkView) => readonly CauseDraft[];

/** Identifiers of the elements that causes point at. */
export const elementIds = {
  end: (end: EndView) => `end ${end.id}`,
  bus: (end: EndView) => `bus ${end.id}`,
  module: (end: EndView) => `module ${end.id}`,
  piece: (index: number) => `piece ${index}`,
  run: 'run',
} as const;

/** `plot-2:eno1 runs at 1 Gb/s`, with its source. */
export function runsAt(end: EndView): readonly SeenFact[] {
  const { speedMbps } = end.facts;
  if (speedMbps === undefined) return [];
  return [readFact(end, `${end.id} runs at ${rateWords(speedMbps)}`, 'speedMbps')];
}

/** What speaks against any cause at one speed: an end that runs as fast as the link should. */
export function againstOneSpeed(view: LinkView): readonly SeenFact[] {
  if (!hasUnequalEnds(view)) return [];
  const fast = view.ends.filter(({ facts }) => (facts.speedMbps ?? 0) >= (view.ratedMbps ?? 0));
  return fast.flatMap(runsAt);
}

/** The two ends of a link in words: `shed-sw:p2 and plot-2:eno1`. */
export function bothEnds({ ends: [a, b] }: LinkView): string {
  return `${a.id} and ${b.id}`;
}
