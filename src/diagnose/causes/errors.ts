import type { SeenFact } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { errorVerdict } from '../error-view.ts';
import { isVirtualLink, type LinkView } from '../link-view.ts';
import { bothEnds, elementIds, type LinkRule } from './cause-rule.ts';
import { receivedLight } from './optics.ts';
import { swapTest } from './swap-test.ts';

/** More errors than the PHY may make. */
export const errors: LinkRule = (view) => {
  if (isVirtualLink(view)) return [];
  return view.ends.flatMap((end) => {
    const found = errorVerdict(view, end);
    if (found?.verdict !== 'worse-than-limit') return [];
    return [
      {
        kind: 'errors',
        proof: 'likely',
        what: `a cable, a connector or an optic between ${bothEnds(view)}, in the direction to ${end.id}`,
        element: elementIds.run,
        for: [readFact(end, found.says, 'rxCrcErrors'), ...codingErrors(end)],
        against: [...fromElsewhere(end), ...duplexMakesThem(view), ...lightMakesThem(view, end)],
        remedy: 'reseat the plugs, clean optics, replace the cords of this run',
        settledBy: `${swapTest(view)}; count again after as much traffic as before`,
      } as const,
    ];
  });
};

function codingErrors(end: EndView): readonly SeenFact[] {
  const { rxSymbolErrors = 0 } = end.facts;
  if (rxSymbolErrors === 0) return [];
  return [
    readFact(
      end,
      `${end.id} counted ${rxSymbolErrors} coding errors, which arise on this cable`,
      'rxSymbolErrors',
    ),
  ];
}

/** A switch that passes frames on before their end passes broken ones on too. */
function fromElsewhere(end: EndView): readonly SeenFact[] {
  if (end.facts.rxSymbolErrors !== 0) return [];
  return [
    readFact(
      end,
      'no coding errors: a switch that forwards before the end of a frame may pass them on from elsewhere',
      'rxSymbolErrors',
    ),
  ];
}

function duplexMakesThem({ ends: [a, b] }: LinkView): readonly SeenFact[] {
  if (a.duplex === undefined || b.duplex === undefined || a.duplex === b.duplex) return [];
  return [{ says: 'the two ends differ in duplex, which makes such errors' }];
}

function lightMakesThem(view: LinkView, end: EndView): readonly SeenFact[] {
  const dim = receivedLight(view).some(({ element }) => element === elementIds.module(end));
  return dim ? [{ says: `the light that ${end.id} receives makes such errors` }] : [];
}
