import { describe, expect, it } from 'vitest';
import { explainTarget } from '../../src/diagnose/explain-target.ts';
import { findTarget } from '../../src/diagnose/find-target.ts';
import { parseJson } from '../../src/facts/json.ts';
import { explainJson } from '../../src/report/explain-json.ts';
import { explainSchema } from '../../src/report/explain-schema.ts';
import type { Site } from '../../src/site/types.ts';
import { faultRows } from '../diagnose/fault-rows.ts';

const times = { startedAt: '2026-11-25T02:00:00.000Z', endedAt: '2026-11-25T02:00:09.000Z' };

function json(site: Site, name: string): string {
  const found = findTarget(site, name);
  if (!found.ok) throw new Error(`no target ${name}`);
  return explainJson(explainTarget(site, found.target), times);
}

describe('the JSON form of an explanation', () => {
  it.each(faultRows)('$fault: keeps to its schema, and is the same again', (row) => {
    for (const site of [row.sick, row.healthy]) {
      const text = json(site, row.target);
      expect(explainSchema.safeParse(parseJson(text)).error).toBeUndefined();
      expect(json(site, row.target)).toBe(text);
    }
  });

  it('says what was explained and when it was read', () => {
    const [row] = faultRows;
    if (row === undefined) throw new Error('no rows');
    const told = explainSchema.parse(parseJson(json(row.sick, row.target)));
    expect(told.target).toEqual({ kind: 'link', name: row.target });
    expect(told.survey).toEqual(times);
    expect(told.standing).toBe('fault');
    expect(told.parts[0]?.causes[0]?.for.map(({ source }) => source)).toContain('ethtool Speed');
  });

  it('refuses what the schema does not know', () => {
    expect(explainSchema.safeParse({ explain: 2 }).success).toBe(false);
  });
});
