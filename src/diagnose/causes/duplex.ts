import type { SeenFact } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { isVirtualLink, type LinkSide, type LinkView, mediumOf } from '../link-view.ts';
import { bothEnds, elementIds, type LinkRule } from './cause-rule.ts';

/** One end fixed, the other negotiating with nobody: it takes half duplex and loses frames. */
export const forcedAgainstAuto: LinkRule = (view) => {
  if (isVirtualLink(view) || view.link.declared.duplex === 'half') return [];
  return view.sides.flatMap((side) => {
    const certain = differs(side);
    if (!certain && !suspected(side)) return [];
    const { end: half, far: full } = side;
    const fixed = half.facts.autoNegotiation === false ? half : full;
    return [
      {
        kind: 'forced-against-auto',
        proof: certain || half.facts.partnerAutoNegotiation === false ? 'is' : 'likely',
        what:
          fixed === full
            ? `the configuration of ${full.id}, fixed against ${half.id}, which negotiates and so takes half duplex`
            : `the configuration of ${half.id}, fixed at half duplex`,
        element: elementIds.end(fixed),
        for: [
          ...[half, full].flatMap(duplexFact),
          ...[half, full].flatMap(autoFact),
          ...(half.facts.partnerAutoNegotiation === false
            ? [
                readFact(
                  half,
                  `${half.id} did not see its partner negotiate`,
                  'partnerAutoNegotiation',
                ),
              ]
            : []),
          ...collisions(half),
          ...frameErrors(full),
        ],
        remedy: `let ${bothEnds(view)} both negotiate`,
        settledBy: `let ${fixed.id} negotiate and read the duplex of both ends again`,
      } as const,
    ];
  });
};

function differs({ end, far }: LinkSide): boolean {
  return end.duplex === 'half' && far.duplex === 'full';
}

/** Half duplex at one end, the other not seen, and a sign that the other does not negotiate. */
function suspected({ end, far }: LinkSide): boolean {
  if (far.duplex !== undefined) return false;
  if (end.duplex === 'half' && end.facts.autoNegotiation !== false)
    return (
      end.facts.partnerAutoNegotiation === false ||
      far.facts.autoNegotiation === false ||
      (end.facts.lateCollisions ?? 0) > 0
    );
  return false;
}

function duplexFact(end: EndView): readonly SeenFact[] {
  if (end.duplex === undefined) return [];
  return [readFact(end, `${end.id} runs ${end.duplex} duplex`, 'duplex')];
}

function autoFact(end: EndView): readonly SeenFact[] {
  const { autoNegotiation } = end.facts;
  if (autoNegotiation === undefined) return [];
  const words = autoNegotiation ? 'negotiates' : 'does not negotiate';
  return [readFact(end, `${end.id} ${words}`, 'autoNegotiation')];
}

function collisions(end: EndView): readonly SeenFact[] {
  const { lateCollisions = 0 } = end.facts;
  if (lateCollisions === 0) return [];
  return [readFact(end, `${end.id} counted ${lateCollisions} late collisions`, 'lateCollisions')];
}

function frameErrors(end: EndView): readonly SeenFact[] {
  const { rxCrcErrors = 0 } = end.facts;
  if (rxCrcErrors === 0) return [];
  return [readFact(end, `${end.id} counted ${rxCrcErrors} broken frames`, 'rxCrcErrors')];
}

/** Half duplex, agreed or not known to be otherwise: it halves the link and more under load. */
export const halfDuplex: LinkRule = (view) => {
  const half = view.ends.filter(({ duplex }) => duplex === 'half');
  const [first] = half;
  if (first === undefined || isVirtualLink(view) || view.link.declared.duplex === 'half') return [];
  if (view.ends.some(({ duplex }) => duplex === 'full')) return [];
  if (forcedAgainstAuto(view).length > 0) return [];
  return [
    {
      kind: 'half-duplex',
      proof: 'is',
      what: `half duplex at ${half.map(({ id }) => id).join(' and ')}, where full is declared`,
      element: elementIds.end(first),
      for: [...half.flatMap(duplexFact), ...view.ends.flatMap(autoFact)],
      remedy: 'let both ends negotiate; declare `duplex: half` if the device can no better',
      settledBy: 'look up the duplex setting of both ends',
    },
  ];
};

/** Both ends fixed alike: what negotiates in the place of one of them takes half duplex, or no link. */
export const bothForced: LinkRule = (view: LinkView) => {
  const [a, b] = view.ends;
  const fixed = view.ends.every(({ facts }) => facts.autoNegotiation === false);
  const pairs = mediumOf(view) === 'copper';
  if (!fixed || !pairs || isVirtualLink(view)) return [];
  if (a.duplex !== undefined && b.duplex !== undefined && a.duplex !== b.duplex) return [];
  return [
    {
      kind: 'both-forced',
      proof: 'check',
      what: `the configuration of ${bothEnds(view)}: both are fixed, and the next device that negotiates will take half duplex at 10 and 100 Mb/s and may find no link above`,
      element: elementIds.end(a),
      for: view.ends.flatMap(autoFact),
      remedy: 'let both negotiate; 1 Gb/s and more on copper need it (IEEE 802.3 clause 28)',
      settledBy: 'let both ends negotiate and read speed and duplex again',
    },
  ];
};
