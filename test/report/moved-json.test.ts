import { describe, expect, it } from 'vitest';
import { parseJson } from '../../src/facts/json.ts';
import { jsonReport } from '../../src/report/json-report.ts';
import { reportSchema } from '../../src/report/report-schema.ts';
import { sinceLastNight } from './since-last-night.ts';
import { whole } from './whole.ts';

describe('what moved, in the JSON report', () => {
  it('has its documented form', () => {
    const { moved, exitStatus } = reportSchema.parse(parseJson(whole(jsonReport(sinceLastNight))));
    expect(exitStatus).toBe(1);
    expect(moved?.findings.map(({ life }) => life)).toEqual([
      'new',
      'worsened',
      'standing',
      'waiting',
    ]);
    expect(moved?.cleared[0]).toMatchObject({ id: '7f0c2d3e4b', nights: 5 });
    expect(moved?.changes.map(({ told }) => told)).toEqual([true, false, false]);
    expect(moved?.asleep).toEqual([{ node: 'plot-1', seenAt: '2026-11-24T02:00:00.000Z' }]);
    expect(moved?.waiversEnded.map(({ on }) => on)).toEqual(['vault:eth5']);
  });
});
