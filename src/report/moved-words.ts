import type { Change, FactChange, PortChange } from '../drift/known-node.ts';
import { dictionary } from '../facts/dictionary.ts';
import type { FactValue } from '../facts/entry.ts';
import { factWords, speedWords, valueWords } from './fact-words.ts';
import { clean } from './layout.ts';
import { timeWords } from './summary-line.ts';

/** Facts of a port that say most about it, first; what follows from them is left out beside them. */
const telling = [
  'neighbour',
  'adminUp',
  'operUp',
  'speedMbps',
  'duplex',
  'mtuBytes',
  'autoNegotiation',
  'spanningTree',
  'aggregate',
  'untaggedVlan',
  'taggedVlans',
  'addresses',
];
/** Changes of one port or node that are written out. */
const shownMax = 4;

/** What moved at one node or port. */
export interface MovedGroup {
  /** `node` or `node:port`. */
  readonly subject: string;
  readonly changes: readonly Change[];
}

/** Changes by node or port, in the order in which each first appears. */
export function movedGroups(changes: readonly Change[]): readonly MovedGroup[] {
  const groups = new Map<string, Change[]>();
  for (const change of changes) {
    const subject = change.port === undefined ? change.node : `${change.node}:${change.port}`;
    const group = groups.get(subject);
    if (group === undefined) groups.set(subject, [change]);
    else group.push(change);
  }
  return [...groups].map(([subject, group]) => ({
    subject,
    changes: group.toSorted((a, b) => weightOf(a) - weightOf(b)),
  }));
}

function weightOf(change: Change): number {
  if (change.kind !== 'fact') return -1;
  const at = telling.indexOf(change.fact);
  return at === -1 ? telling.length : at;
}

/**
 * What moved, in one line: `quay-sw:xg3: MTU 9216 bytes, now 1500 bytes; the node restarted
 * between`. Where it was not read by the audit before, which began at `lastAt`, it says since when.
 */
export function movedWords({ subject, changes }: MovedGroup, lastAt: string | undefined): string {
  const shown = changes.slice(0, shownMax);
  const left = changes.length - shown.length;
  const [oldest] = changes.map(({ seenAt }) => seenAt).sort();
  const reasons = [...new Set(shown.flatMap(({ why }) => (why === undefined ? [] : [why])))];
  const parts = [
    ...shown.map(changeWords),
    ...(left > 0 ? [`${left} more ${left === 1 ? 'fact' : 'facts'}`] : []),
    ...(oldest === undefined || lastAt === undefined || oldest >= lastAt
      ? []
      : [`not read since ${timeWords(oldest)}`]),
    ...reasons,
  ];
  return clean(`${subject}: ${parts.join('; ')}`);
}

function changeWords(change: Change): string {
  return change.kind === 'fact' ? factChangeWords(change) : portChangeWords(change);
}

function portChangeWords({ kind, to = '?' }: PortChange): string {
  if (kind === 'port-new') return 'is new there';
  return kind === 'port-gone' ? 'is no longer there' : `is called ${to} now`;
}

/** A fact with another value: `MTU 9216 bytes, now 1500 bytes`, `link up, now down`. */
export function factChangeWords(change: Pick<FactChange, 'port' | 'fact' | 'was' | 'is'>): string {
  const { port, fact, was, is } = change;
  const states = stateWords[fact];
  if (states !== undefined)
    return `${states[was === true ? 0 : 1]}, now ${states[is === true ? 0 : 1]}`;
  if (fact === 'name') return `was called ${valueWords(was)}, now ${valueWords(is)}`;
  const kind = port === undefined ? 'node' : 'port';
  const words = factWords(`${kind}.${fact}`);
  const unit = dictionary[kind][fact]?.unit;
  const say = (value: FactValue) =>
    unit === 'Mb/s' && typeof value === 'number' ? speedWords(value) : valueWords(value, unit);
  return `${words} ${say(was)}, now ${say(is)}`;
}

/** Flags read better as what they say: when true, when false. */
const stateWords: Readonly<Record<string, readonly [string, string]>> = {
  operUp: ['link up', 'link down'],
  adminUp: ['switched on', 'switched off'],
  autoNegotiation: ['negotiates', 'does not negotiate'],
  present: ['there', 'not there'],
};
