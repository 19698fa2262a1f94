import { dictionary, type SubjectKind, subjectKinds } from '../facts/dictionary.ts';
import type { FactEntry, FactOrigin, FactValue } from '../facts/entry.ts';
import type { GapReason } from '../facts/gap.ts';
import type { Place } from '../facts/subject.ts';
import { clean } from './layout.ts';

/** A speed as people say it: `10 Gb/s`, `2.5 Gb/s`, `100 Mb/s`. */
export function speedWords(mbps: number): string {
  return mbps >= 1000 ? `${mbps / 1000} Gb/s` : `${mbps} Mb/s`;
}

/** `hopgauge.yaml:24` */
export function placeWords(place: Place): string {
  return `${clean(place.file)}:${place.line}`;
}

/** What each reason for an absent fact means, in a phrase. */
export const gapWords = {
  unsupported: 'the node has no such value',
  denied: 'the node would not tell',
  unreadable: 'the answer could not be understood',
  truncated: 'the answer ended too early',
  unasked: 'nobody asked',
  down: 'the link is down',
  unreachable: 'the node gave no answer',
  doubtful: 'the value is not to be believed',
} as const satisfies Record<GapReason, string>;

function isKind(text: string): text is SubjectKind {
  return (subjectKinds as readonly string[]).includes(text);
}

function entryOf(fact: string): FactEntry | undefined {
  const [kind = '', name = ''] = fact.split('.');
  if (!isKind(kind)) return undefined;
  return Object.hasOwn(dictionary[kind], name) ? dictionary[kind][name] : undefined;
}

/** Where a fact, written `port.mtuBytes`, comes from; undefined: not in the dictionary. */
export function originOf(fact: string): FactOrigin | undefined {
  return entryOf(fact)?.origin;
}

const unitsInNames = /(Bytes|Mbps|Seconds|Metres|Dbm)$/;

/** The name of a fact as words: `port.declaredMtuBytes` gives `declared MTU`. */
export function factWords(fact: string): string {
  const name = fact.slice(fact.indexOf('.') + 1).replace(unitsInNames, '');
  const words = name.replace(/([A-Z])/g, ' $1').toLowerCase();
  return clean(words.replace(/\b(mtus?|mac|id|vlan|lag|os)\b/g, (word) => acronyms[word] ?? word));
}

const acronyms: Readonly<Record<string, string>> = {
  mtu: 'MTU',
  mtus: 'MTUs',
  mac: 'MAC',
  id: 'identifier',
  vlan: 'VLAN',
  lag: 'aggregate',
  os: 'OS',
};

/** A value with its unit: `1500 bytes`, `yes`, `xg2, xg3`, `none`. */
export function valueWords(value: FactValue, unit?: string): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  const text = typeof value === 'object' ? value.map(String).join(', ') : String(value);
  const safe = text === '' ? 'none' : clean(text);
  return unit === undefined ? safe : `${safe} ${unit}`;
}
