import { describe, expect, it } from 'vitest';
import type { Explanation } from '../../src/diagnose/explain-link.ts';
import { explainTarget, type TargetExplanation } from '../../src/diagnose/explain-target.ts';
import { findTarget } from '../../src/diagnose/find-target.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Site } from '../../src/site/types.ts';
import { makeIntent, makeSurvey } from '../site/builders.ts';
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

describe('a path with a link that is down', () => {
  it('is not called fast: the ports without a link are named first', () => {
    const intent = makeIntent({
      nodes: { 'plot-1': {}, 'quay-sw': {}, vault: {} },
      links: {
        'plot-1:en7 - quay-sw:xg2': { speedMbps: 10_000 },
        'vault:eth4 - quay-sw:xg3': { speedMbps: 10_000 },
      },
      paths: { plotting: { from: ['plot-1'], to: ['vault'] } },
    });
    const up = { operUp: true, speedMbps: 10_000, duplex: 'full' };
    const survey = makeSurvey({
      'plot-1': { ports: { en7: { operUp: false } } },
      'quay-sw': { ports: { xg2: { operUp: false }, xg3: up } },
      vault: { ports: { eth4: up } },
    });
    const { says } = firstPart(explained(buildSite(intent, survey, { strict: false }), 'plotting'));
    expect(says).toBe('has no link at plot-1:en7, quay-sw:xg2; see plot-1:en7 - quay-sw:xg2');
  });
});
