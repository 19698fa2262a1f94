import { rateWords } from '../../ethernet/run-brake.ts';
import { highestMbps } from '../../site/port-modes.ts';
import { readFact } from '../end-view.ts';
import { hasUnequalEnds, isSlow, isVirtualLink, type LinkView } from '../link-view.ts';
import { bothEnds, elementIds, type LinkRule, runsAt } from './cause-rule.ts';

/** The two ends of one cable at two speeds: something stands between them. */
export const unequalEnds: LinkRule = (view) => {
  if (!hasUnequalEnds(view) || isVirtualLink(view) || view.up === false) return [];
  const module = copperModule(view);
  const what =
    module === undefined
      ? 'something between the ends that the intent does not name: a switch, a converter or a dock, or a cable that goes elsewhere'
      : `${module.text}, which adapts the rate, or a device between the ends that the intent does not name`;
  return [
    {
      kind: module === undefined ? 'hidden-device' : 'rate-adapting-module',
      proof: 'is',
      what,
      element: module?.element ?? elementIds.run,
      for: [
        ...view.ends.flatMap(runsAt),
        { says: 'the two ends of one cable cannot run at two speeds' },
      ],
      remedy:
        'follow the cable from end to end; believe the slower end, and look whether pause is agreed',
      settledBy: `join ${bothEnds(view)} by one known-good cable alone${
        module === undefined ? '' : ', without that module,'
      } and read both speeds again: equal ones clear the ports`,
    },
  ];
};

/** What an end hears is not what the declared far end says that it offers. */
export const strangerHeard: LinkRule = (view) => {
  if (!isSlow(view) || hasUnequalEnds(view) || isVirtualLink(view)) return [];
  return view.sides.flatMap(({ end, far }) => {
    const [heard, said] = [highestMbps(end.partner), highestMbps(far.advertised)];
    if (heard === undefined || said === undefined || heard >= said) return [];
    return [
      {
        kind: 'hidden-device',
        proof: 'likely',
        what: `a device between ${bothEnds(view)} that the intent does not name`,
        element: elementIds.run,
        for: [
          readFact(end, `${end.id} hears ${rateWords(heard)} at most`, 'partnerModes'),
          readFact(far, `${far.id} says that it offers ${rateWords(said)}`, 'advertisedModes'),
        ],
        remedy: 'follow the cable from end to end',
        settledBy: `join ${bothEnds(view)} by one known-good cord alone and read the lists again`,
      } as const,
    ];
  });
};

function copperModule(view: LinkView): { text: string; element: string } | undefined {
  const at = view.link.declared.run.findIndex(({ moduleType }) => /BASE-T$/.test(moduleType ?? ''));
  const piece = view.link.declared.run[at];
  if (piece !== undefined) return { text: piece.text, element: elementIds.piece(at) };
  const end = view.ends.find(({ facts }) => /BASE-T\b/.test(facts.moduleText ?? ''));
  if (end === undefined) return undefined;
  return {
    text: `the module ${end.facts.moduleText} in ${end.id}`,
    element: elementIds.module(end),
  };
}
