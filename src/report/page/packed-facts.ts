import { dictionary, type SubjectKind } from '../../facts/dictionary.ts';
import type { Gap } from '../../facts/gap.ts';
import { gapOf, type Subject, sourceOf } from '../../facts/subject.ts';
import { factWords, gapWords, valueWords } from '../fact-words.ts';
import { clean } from '../layout.ts';

/** One fact of many subjects, each different cell once. */
export interface PackedColumn {
  /** The name of the fact as words. */
  readonly fact: string;
  /** What the fact means, from the dictionary. */
  readonly meaning: string;
  /**
   * `=` and the value with its unit, or `?` and why there is none; then a tab and the source. The
   * first is empty: never expected.
   */
  readonly cells: readonly string[];
  /** Which cell each subject has, as the step from that of the subject before. */
  readonly steps: readonly number[];
}

/**
 * Every fact and gap of subjects of one kind, in columns, since a column says much the same again
 * and again. Facts that no subject has or misses are left out.
 */
export function packFacts(kind: SubjectKind, subjects: readonly Subject[]): PackedColumn[] {
  const cleaned = remembered(clean);
  const gapped = remembered(gapText);
  const columns = Object.entries(dictionary[kind]).flatMap(([name, entry]) =>
    // The identifier stands above the table.
    name === 'id' ? [] : [{ name, unit: entry.unit, entry, packer: packer() }],
  );
  // One subject after another, since the facts of one lie together in memory.
  for (const subject of subjects) {
    for (const { name, unit, packer } of columns) {
      const value = subject.facts[name];
      const gap = value === undefined ? gapOf(subject, name) : undefined;
      if (value === undefined && gap === undefined) {
        packer.add('');
        continue;
      }
      const source = sourceOf(subject, name);
      const said = gap === undefined ? `=${valueWords(value ?? '', unit)}` : gapped(gap);
      packer.add(`${said}\t${source === undefined ? '' : cleaned(source)}`);
    }
  }
  return columns.flatMap(({ name, entry: { meaning }, packer: { cells, steps } }) =>
    cells.size === 1
      ? []
      : [{ fact: factWords(`${kind}.${name}`), meaning, cells: [...cells.keys()], steps }],
  );
}

interface Packer {
  readonly cells: ReadonlyMap<string, number>;
  readonly steps: readonly number[];
  readonly add: (cell: string) => void;
}

function packer(): Packer {
  const cells = new Map<string, number>([['', 0]]);
  const steps: number[] = [];
  let before = 0;
  const add = (cell: string) => {
    const at = cells.get(cell) ?? cells.size;
    if (at === cells.size) cells.set(cell, at);
    steps.push(at - before);
    before = at;
  };
  return { cells, steps, add };
}

function gapText({ reason, words }: Gap): string {
  const own = clean(words);
  return `?${gapWords[reason]}${own === '' ? '' : ` (${own})`}`;
}

/** Ports share most of their sources and gaps, and cleaning takes its time. */
function remembered<K>(make: (key: K) => string): (key: K) => string {
  const known = new Map<K, string>();
  return (key) => {
    const before = known.get(key);
    if (before !== undefined) return before;
    const made = make(key);
    known.set(key, made);
    return made;
  };
}
