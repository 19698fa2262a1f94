import type { FactValue } from '../facts/entry.ts';
import type { Gap } from '../facts/gap.ts';
import type { Subject } from '../facts/subject.ts';

/** Facts that may rest on the owner's word for a hop that nobody reads. */
const restOnWord = [
  'carriesDeclaredMtu',
  'passesAtLeastBytes',
  'mtuAtLeastBytes',
  'ceilingMbps',
  'goodputInReach',
];

/**
 * Subjects without the good news that rests on the owner's word alone. That a hop is too small
 * stays, declared or read.
 */
export function onlyRead(subjects: readonly Subject[]): readonly Subject[] {
  const hops = new Set(subjects.flatMap(hopsOnWord));
  if (hops.size === 0) return subjects;
  return subjects.map((subject) => {
    const onWord = subject.kind === 'port' ? portOnWord(subject, hops) : hopsOnWord(subject);
    return onWord.length === 0 ? subject : withhold(subject, onWord);
  });
}

function hopsOnWord({ kind, facts }: Subject): readonly string[] {
  return kind === 'path' ? texts(facts['hopsOnWord']) : [];
}

function portOnWord({ id, facts }: Subject, hops: ReadonlySet<string>): readonly string[] {
  return [id, facts['node']]
    .filter((name) => typeof name === 'string' && hops.has(name))
    .map(String);
}

function texts(value: FactValue | undefined): readonly string[] {
  return Array.isArray(value) ? value.map(String) : [];
}

function withhold(subject: Subject, hops: readonly string[]): Subject {
  const [first = ''] = hops;
  const words = `known only from the intent: ${hops.join(', ')}`;
  const gap: Gap = { reason: 'unasked', words, cause: `word for ${first}` };
  const held = restOnWord.filter((name) => isGoodNews(subject.facts[name]));
  const facts = { ...subject.facts };
  for (const name of held) delete facts[name];
  const gaps = { ...subject.own?.gaps, ...Object.fromEntries(held.map((name) => [name, gap])) };
  return { ...subject, facts, own: { sources: subject.own?.sources ?? {}, gaps } };
}

function isGoodNews(value: FactValue | undefined): boolean {
  return value !== undefined && value !== false;
}
