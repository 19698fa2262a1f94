import type { SubjectKind } from '../../src/facts/dictionary.ts';
import type { FactValue } from '../../src/facts/entry.ts';
import type { Gaps } from '../../src/facts/gap.ts';
import type { Subject } from '../../src/facts/subject.ts';

/** A subject with these facts and gaps; its id is that among the facts, else `it`. */
export function subjectOf(
  kind: SubjectKind,
  facts: Readonly<Record<string, FactValue | undefined>>,
  gaps: Gaps = {},
): Subject {
  const id = facts['id'] ?? facts['name'] ?? 'it';
  return { kind, id: String(id), facts, shared: { sources: {}, gaps } };
}
