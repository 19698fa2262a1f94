import type { Hop } from '../site/types.ts';
import { speedWords } from './fact-words.ts';
import { clean, noBreak } from './layout.ts';
import type { Measure } from './measure.ts';
import type { Stand } from './opening.ts';

/** What is said beside the opening of a hop, in order; never left to a colour. */
export function hopWords(hop: Hop, stand: Stand): string {
  const words = [rateWords(hop), countedWords(hop), stateWords(hop, stand)].filter(
    (text) => text !== '',
  );
  return words.join(', ');
}

/** Marks of a hop that sets what the whole path can do. */
export function hopMarks(hop: Hop, shown: Pick<Measure, 'markNarrowest' | 'markSlowest'>): string {
  const marks = [
    ...(hop.narrowest && shown.markNarrowest ? ['narrowest'] : []),
    ...(hop.slowest && shown.markSlowest ? ['slowest'] : []),
  ];
  return marks.length === 0 ? '' : `<< ${marks.join(' and ')}`.replaceAll(' ', noBreak);
}

function rateWords(hop: Hop): string {
  const { declaredSpeedMbps, declaredDuplex, adminUp, operUp } = hop.port.subject.facts;
  if (adminUp === false) return 'switched off';
  if (operUp === false) return 'link down';
  if (hop.speedMbps === undefined) {
    const expected = !hop.clearance.onWord && !hop.layer && hop.port.survey !== undefined;
    return [expected ? 'speed not known' : '', duplexWords(hop)].filter(Boolean).join(' ');
  }
  const slow = typeof declaredSpeedMbps === 'number' && hop.speedMbps < declaredSpeedMbps;
  const half = hop.duplex !== undefined && hop.duplex !== (declaredDuplex ?? hop.duplex);
  const declared = [
    ...(slow ? [speedWords(declaredSpeedMbps)] : []),
    ...(half && typeof declaredDuplex === 'string' ? [declaredDuplex] : []),
  ];
  const rate = [speedWords(hop.speedMbps), duplexWords(hop)].filter(Boolean).join(' ');
  return declared.length === 0 ? rate : `${rate} (declared ${declared.join(' ')})`;
}

/** The number that the port gives, where it is not settled how much of it the packet may fill. */
function countedWords({ clearance, port }: Hop): string {
  const { atLeastBytes: least, atMostBytes: most, onWord } = clearance;
  const { mtuBytes } = port.subject.facts;
  if (onWord || least === undefined || most === undefined || least === most) return '';
  return typeof mtuBytes === 'number' ? `says ${mtuBytes}` : '';
}

function duplexWords(hop: Hop): string {
  return hop.duplex === 'full' || hop.duplex === 'half' ? hop.duplex : '';
}

/** Whether traffic uses a hop now, and what keeps it out of use; empty where that is not known. */
export function useWords(hop: Hop): string {
  const { adminUp, operUp } = hop.port.subject.facts;
  // A route may still lead over a port that has no link: nothing uses it.
  const dead = adminUp === false || operUp === false;
  if (hop.inUse === undefined || (dead && hop.inUse)) return '';
  return hop.inUse ? 'in use now' : idleWords(hop);
}

function stateWords(hop: Hop, stand: Stand): string {
  const use = useWords(hop) === '' ? [] : [useWords(hop)];
  const word = hop.clearance.onWord ? ['on your word'] : [];
  const state =
    stand === 'passes' || stand === 'no demand' ? [] : [stand + reasonWords(hop, stand)];
  return [...state, ...word, ...use].join(', ');
}

function idleWords({ idleBecause }: Hop): string {
  if (idleBecause === 'spanning-tree') return 'not in use: spanning tree blocks it';
  return idleBecause === 'lacp' ? 'not in use: its aggregate leaves it out' : 'standing by';
}

function reasonWords({ clearance, port }: Hop, stand: Stand): string {
  const { words = '', cause } = clearance.gap ?? {};
  if (stand !== 'not known' || clean(words) === '') return '';
  // Why a whole node is unread is told once, below, and not at each of its ports.
  return cause === `node ${port.node}` ? ': see below' : `: ${clean(words)}`;
}
