import { dictionary, type SubjectKind } from '../../facts/dictionary.ts';
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
  return Object.entries(dictionary[kind]).flatMap(([name, { unit, meaning }]) => {
    // It stands above the table.
    if (name === 'id') return [];
    const cells = new Map<string, number>([['', 0]]);
    let before = 0;
    const steps = subjects.map((subject) => {
      const cell = cellOf(subject, name, unit);
      const at = cells.get(cell) ?? cells.size;
      if (at === cells.size) cells.set(cell, at);
      const step = at - before;
      before = at;
      return step;
    });
    if (cells.size === 1) return [];
    return [{ fact: factWords(`${kind}.${name}`), meaning, cells: [...cells.keys()], steps }];
  });
}

function cellOf(subject: Subject, name: string, unit: string | undefined): string {
  const value = subject.facts[name];
  const source = sourceOf(subject, name);
  const from = source === undefined ? '' : clean(source);
  if (value !== undefined) return `=${valueWords(value, unit)}\t${from}`;
  const gap = gapOf(subject, name);
  if (gap === undefined) return '';
  const own = clean(gap.words);
  return `?${gapWords[gap.reason]}${own === '' ? '' : ` (${own})`}\t${from}`;
}
