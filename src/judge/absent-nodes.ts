import { gapOf, type Subject } from '../facts/subject.ts';

/**
 * Nodes that are declared to sleep or to be absent at times and gave no answer, as the causes of
 * gaps, `node plot-1`. A node that answered and refused is not absent.
 */
export function absentNodes(subjects: readonly Subject[]): ReadonlySet<string> {
  const causes = new Set<string>();
  for (const subject of subjects) {
    if (subject.kind === 'node' && mayBeAbsent(subject) && isSilent(subject)) {
      causes.add(`node ${subject.id}`);
    }
  }
  return causes;
}

function mayBeAbsent({ facts }: Subject): boolean {
  return facts['sleeps'] === true || facts['mayBeAbsent'] === true;
}

function isSilent(subject: Subject): boolean {
  return gapOf(subject, 'read')?.reason === 'unreachable';
}
