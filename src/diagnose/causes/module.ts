import { rateWords } from '../../ethernet/run-brake.ts';
import type { CauseDraft } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { isSlow, moduleMbps } from '../link-view.ts';
import { bothEnds, elementIds, type LinkRule } from './cause-rule.ts';

/** Modules that do not fit each other or the fibre, as declared. */
export const modulesRefused: LinkRule = (view) => {
  const { run, link } = view;
  if (run?.standing !== 'refused' || run.limitedBy === undefined) return [];
  const { pieceIndex, reason } = run.limitedBy;
  const piece = link.declared.run[pieceIndex];
  // A link that runs proves that the declaration is wrong, not the pieces.
  const proof = view.up === true ? 'check' : 'is';
  return [
    {
      kind: 'module',
      proof,
      what: `pieces that cannot work together: ${piece?.text ?? 'a piece'}`,
      element: elementIds.piece(pieceIndex),
      for: [{ says: reason }],
      remedy:
        'use modules of one kind at both ends, made for the fibre between; or correct the run',
      settledBy: 'read the type on both modules and on the cable',
    },
  ];
};

/** Modules at both ends that say different types of themselves. */
export const modulesDiffer: LinkRule = (view) => {
  const [a, b] = view.ends;
  const [first, second] = [moduleMbps(a), moduleMbps(b)];
  if (first === undefined || second === undefined || first === second) return [];
  return [
    {
      kind: 'module',
      proof: view.up === true ? 'likely' : 'is',
      what: `modules of different speeds at ${bothEnds(view)}`,
      element: elementIds.module(first < second ? a : b),
      for: view.ends.map(moduleFact),
      remedy: 'use modules of one kind at both ends',
      settledBy: 'read the type on both modules',
    },
  ];
};

/** A module that is made for less than the link is meant to run at, or than its port is set to. */
export const moduleOfOtherRate: LinkRule = (view) => {
  if (modulesDiffer(view).length > 0) return [];
  return view.ends.flatMap((end) => {
    const [rate, wanted] = [moduleMbps(end), view.ratedMbps];
    if (rate === undefined || wanted === undefined || rate >= wanted) return [];
    if (view.up !== false && !isSlow(view)) return [];
    return [
      {
        kind: 'module',
        proof: 'is',
        what: `the module in ${end.id}: it is made for ${rateWords(rate)}`,
        element: elementIds.module(end),
        for: [moduleFact(end)],
        remedy: `use a module of ${rateWords(wanted)}, or fix the speed at ${rateWords(rate)} at both ends`,
        settledBy: `read the type on the module in ${end.id}`,
      } satisfies CauseDraft,
    ];
  });
};

function moduleFact(end: EndView) {
  return readFact(end, `the module in ${end.id} is ${end.facts.moduleText}`, 'moduleText');
}
