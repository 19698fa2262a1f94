import { describe, expect, it } from 'vitest';
import type { Explanation } from '../../src/diagnose/explain-link.ts';
import { explainTarget, type TargetExplanation } from '../../src/diagnose/explain-target.ts';
import { findTarget } from '../../src/diagnose/find-target.ts';
import type { Site } from '../../src/site/types.ts';
import { faultRows } from './fault-rows.ts';

function explained(site: Site, name: string): TargetExplanation {
  const found = findTarget(site, name);
  if (!found.ok) throw new Error(`no target ${name}`);
  return explainTarget(site, found.target);
}

function firstPart({ parts: [first] }: TargetExplanation): Explanation {
  if (first === undefined) throw new Error('nothing was explained');
  return first;
}

describe('the table of faults', () => {
  it.each(faultRows)('$fault: the right cause first', (row) => {
    const part = firstPart(explained(row.sick, row.target));
    const [first] = part.causes;
    expect({ kind: first?.kind, certainty: first?.certainty }).toEqual(row.first);
    expect(first?.what).toContain(row.names);
    expect(first?.for.length).toBeGreaterThan(0);
    expect(part.standing).toBe(first?.fault === true ? 'fault' : 'no-fault');
    const marked = part.elements.filter(({ limits }) => limits !== undefined).map(({ id }) => id);
    expect(marked).toEqual(row.marks === undefined ? [] : [row.marks]);
    if (row.marks !== undefined) {
      expect(part.elements.find(({ id }) => id === row.marks)?.limits).toBe(first?.certainty);
    }
    expect(part.next !== undefined).toBe(first?.fault === true);
  });

  it.each(faultRows)('$fault: nothing wrong with its healthy twin', (row) => {
    const { standing, parts } = explained(row.healthy, row.target);
    expect(parts.flatMap(({ causes }) => causes)).toEqual([]);
    expect(standing).toBe('no-fault');
    expect(parts.flatMap(({ next, cautions }) => [next ?? [], cautions].flat())).toEqual([]);
  });
});
