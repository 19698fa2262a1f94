import { describe, expect, it } from 'vitest';
import { parseJson } from '../../src/facts/json.ts';
import { jsonlReport } from '../../src/report/jsonl-report.ts';
import { sinceLastNight } from './since-last-night.ts';
import { whole } from './whole.ts';

describe('JSON Lines', () => {
  it('has each finding with its life, what cleared, moved and grew', () => {
    const lines = whole(jsonlReport(sinceLastNight))
      .trimEnd()
      .split('\n')
      .map((line) => parseJson(line) as Record<string, unknown>);
    expect(
      lines.map((each) => [each['line'], each['life'] ?? each['told'] ?? each['id'] ?? null]),
    ).toEqual([
      ['finding', 'new'],
      ['finding', 'worsened'],
      ['finding', 'standing'],
      ['finding', 'waiting'],
      ['cleared', '7f0c2d3e4b'],
      ['change', true],
      ['change', false],
      ['change', false],
      ['growth', null],
    ]);
  });
});
