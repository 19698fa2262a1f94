import { rateWords } from '../../ethernet/run-brake.ts';
import type { CauseDraft, SeenFact } from '../cause.ts';
import { type EndView, highestMbps, readFact } from '../end-view.ts';
import {
  cannotReach,
  hasUnequalEnds,
  isSlow,
  isVirtualLink,
  type LinkSide,
  type LinkView,
  slowestMbps,
} from '../link-view.ts';
import { againstOneSpeed, bothEnds, elementIds, type LinkRule, runsAt } from './cause-rule.ts';
import { swapTest, weakPiece } from './swap-test.ts';

/** Both ends offer more than they run at: the pieces between them, or a plug. */
export const downshift: LinkRule = (view) => {
  const side = view.sides.find(({ cause }) => cause?.kind === 'downshift');
  if (side?.cause?.kind !== 'downshift' || isVirtualLink(view)) return [];
  const { highest } = side.cause;
  const lists = `both ends offer ${rateWords(highest.speedMbps)}`;
  return [
    {
      ...cableOf(view),
      proof: 'is',
      for: [readFact(side.end, lists, 'partnerModes'), ...runsAt(side.end), ...runFacts(view)],
      against: againstOneSpeed(view),
    },
  ];
};

/** Slow, and no pair of lists tells cable from configuration. */
export const perhapsCable: LinkRule = (view) => {
  // Two speeds on one cable are no fault of the cable.
  if (!isSlow(view) || isVirtualLink(view) || hasUnequalEnds(view)) return [];
  if (view.sides.some((side) => isTold(view, side))) return [];
  if (view.ends.some((end) => cannotReach(end, view.ratedMbps ?? 0))) return [];
  const facts = runFacts(view);
  return [
    {
      ...cableOf(view),
      // What a run is not rated for may run all the same, and one that is rated may be broken.
      proof: view.run?.carriesWanted === 'no' ? 'likely' : 'check',
      for: [...view.ends.flatMap(runsAt), ...facts],
    },
    ...view.ends
      .filter((end) => end.advertised === undefined)
      .map((end) => offerOf(view, end, 'check')),
  ];
};

/** The lists of one side decided why it runs as it does; not where its partner contradicts them. */
function isTold(view: LinkView, { cause, end, far }: LinkSide): boolean {
  if (cause === undefined) return false;
  if (cause.kind === 'limited-by') {
    return cause.limits.some(({ side }) => !saysItOffers(view, side === 'local' ? end : far));
  }
  return ['downshift', 'fixed', 'as-negotiated', 'not-negotiated'].includes(cause.kind);
}

function cableOf(view: LinkView): Omit<CauseDraft, 'proof' | 'for'> {
  const weak = weakPiece(view);
  const fault = weak === undefined ? '' : `; ${weak.piece.text} first`;
  return {
    kind: 'cable',
    what: `the cable or a connector between ${bothEnds(view)}${fault}`,
    element: weak === undefined ? elementIds.run : elementIds.piece(weak.pieceIndex),
    remedy:
      weak === undefined
        ? 'reseat the plugs, then replace the cords, then look at jacks and panels, then the wall cable'
        : `replace ${weak.piece.text}`,
    settledBy: swapTest(view),
  };
}

function runFacts(view: LinkView): readonly SeenFact[] {
  const weak = weakPiece(view);
  const speed = slowestMbps(view);
  return [
    ...(weak === undefined ? [] : [{ says: `${weak.piece.text}: ${weak.reason}` }]),
    ...(view.run !== undefined && view.run.fieldTerminated > 0
      ? [{ says: `${view.run.fieldTerminated} of its pieces have plugs that were put on by hand` }]
      : []),
    ...(speed === 100
      ? [
          {
            says: '100 Mb/s needs two of the four pairs and 1 Gb/s all four: one pair may be broken',
            source: 'IEEE 802.3 clauses 25 and 40',
          },
        ]
      : []),
  ];
}

/** A side does not offer what it could, or is fixed below it. */
export const configuration: LinkRule = (view) => {
  if (isVirtualLink(view)) return [];
  const limited = limitedEnds(view, 'advertisement').filter((end) => !saysItOffers(view, end));
  return uniqueEnds([...limited, ...fixedBelow(view)]).map((end) => ({
    kind: 'configuration',
    proof: 'is',
    what: `the configuration of ${end.id}: ${
      end.facts.autoNegotiation === false
        ? 'its speed is fixed'
        : `it does not offer ${rateWords(view.ratedMbps ?? 0)}, which it can`
    }`,
    element: elementIds.end(end),
    for: [...offerFacts(view, end), ...canFacts(end), ...runsAt(end)],
    against: againstOneSpeed(view),
    remedy: `let ${end.id} negotiate all its modes`,
    settledBy: `let ${end.id} offer all its modes and read the speed again`,
  }));
};

/** A side cannot reach what the link is meant to run at. */
export const capability: LinkRule = (view) => {
  const { ratedMbps, ends } = view;
  if (!isSlow(view) || isVirtualLink(view) || ratedMbps === undefined) return [];
  return ends
    .filter((end) => cannotReach(end, ratedMbps))
    .map((end) => ({
      kind: 'capability',
      proof: 'is',
      what: `the capability of ${end.id}: it cannot run at ${rateWords(ratedMbps)}`,
      element: elementIds.end(end),
      for: [...canFacts(end), ...runsAt(end)],
      remedy: `use another port or adapter there, or declare ${rateWords(highestMbps(end.capable) ?? 0)}`,
      settledBy: `compare the data sheet of ${end.id} with what it says that it can`,
    }));
};

/** A side offers less than is wanted, and it is not known whether it could more. */
export const offer: LinkRule = (view) => {
  if (isVirtualLink(view)) return [];
  return uniqueEnds(limitedEnds(view, 'unread')).map((end) => offerOf(view, end, 'likely'));
};

function offerOf(view: LinkView, end: EndView, proof: CauseDraft['proof']): CauseDraft {
  const facts = offerFacts(view, end);
  return {
    kind: 'offer',
    proof,
    what: `the setting of ${end.id}, or what it can`,
    element: elementIds.end(end),
    for: facts.length > 0 ? facts : [{ says: `what ${end.id} offers could not be read` }],
    against: againstOneSpeed(view),
    remedy: `look up which speeds ${end.id} can and is set to offer`,
    settledBy: swapTest(view),
  };
}

function limitedEnds(view: LinkView, by: 'advertisement' | 'unread'): readonly EndView[] {
  return view.sides.flatMap(({ cause, end, far }) => {
    if (cause?.kind !== 'limited-by') return [];
    return cause.limits
      .filter((limit) => limit.by === by)
      .map(({ side }) => (side === 'local' ? end : far));
  });
}

/** Ends that do not negotiate and run below what they could and should. */
function fixedBelow(view: LinkView): readonly EndView[] {
  const { ratedMbps, ends } = view;
  if (ratedMbps === undefined) return [];
  const byHand = view.sides.some(({ cause }) => cause?.kind === 'not-negotiated');
  return ends.filter(
    (end) =>
      (end.facts.autoNegotiation === false || byHand) &&
      end.facts.speedMbps !== undefined &&
      end.facts.speedMbps < ratedMbps &&
      !cannotReach(end, ratedMbps),
  );
}

function uniqueEnds(ends: readonly EndView[]): readonly EndView[] {
  return ends.filter((end, at) => ends.findIndex(({ id }) => id === end.id) === at);
}

function offerFacts(view: LinkView, end: EndView): readonly SeenFact[] {
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

function canFacts(end: EndView): readonly SeenFact[] {
  const most = highestMbps(end.capable);
  if (most === undefined) return [];
  return [readFact(end, `${end.id} can ${rateWords(most)}`, 'supportedModes')];
}

/** An end that offers the speed by its own word: what its partner hears is then no setting of it. */
function saysItOffers({ ratedMbps = 0 }: LinkView, end: EndView): boolean {
  return (highestMbps(end.advertised) ?? 0) >= ratedMbps;
}

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
