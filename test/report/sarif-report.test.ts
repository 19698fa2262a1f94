import { describe, expect, it } from 'vitest';
import { parseJson } from '../../src/facts/json.ts';
import { sarifReport } from '../../src/report/sarif-report.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { allSites } from './all-sites.ts';
import { samples } from './saltmarsh.ts';
import { isSarif } from './sarif-check.ts';
import { sinceLastNight } from './since-last-night.ts';
import { whole } from './whole.ts';

interface SarifResult {
  readonly kind: string;
  readonly level: string;
  readonly baselineState?: string;
  readonly suppressions?: readonly object[];
  readonly partialFingerprints: Readonly<Record<string, string>>;
  readonly locations: readonly {
    readonly physicalLocation?: { readonly region: { readonly startLine: number } };
  }[];
}

function sarifResults(result: AuditResult): readonly SarifResult[] {
  const log = parseJson(whole(sarifReport(result))) as { runs: [{ results: SarifResult[] }] };
  return log.runs[0].results;
}

describe('SARIF', () => {
  for (const [name, result] of Object.entries(allSites)) {
    it(`is valid by its published schema for ${name}`, () => {
      isSarif(parseJson(whole(sarifReport(result))));
      expect(isSarif.errors).toBe(null);
    });
  }

  it('would be refused with a level that the standard does not have', () => {
    const wrong = whole(sarifReport(sinceLastNight)).replaceAll(
      '"level": "error"',
      '"level": "fatal"',
    );
    expect(isSarif(parseJson(wrong))).toBe(false);
  });

  it('has kind, level, line, state and suppression of each finding', () => {
    const rows = sarifResults(sinceLastNight).map((each) => [
      each.partialFingerprints['hopgaugeFinding/v1'],
      each.kind,
      each.level,
      each.baselineState,
      each.suppressions?.length,
      each.locations[0]?.physicalLocation?.region.startLine,
    ]);
    expect(rows).toEqual([
      ['1f0c2d3e4b', 'fail', 'error', 'new', 0, 31],
      ['2a0c2d3e4b', 'fail', 'error', 'updated', 0, 31],
      ['5d0c2d3e4b', 'fail', 'warning', 'unchanged', 1, 31],
      ['6e0c2d3e4b', 'open', 'none', 'new', 0, 31],
      ['7f0c2d3e4b', 'fail', 'error', 'absent', undefined, undefined],
    ]);
  });

  it('has no state without a history, or on its first audit', () => {
    const { moved } = sinceLastNight;
    if (moved === undefined) throw new Error('the sample has a history');
    const firstNight = { ...sinceLastNight, moved: { ...moved, first: true } };
    for (const result of [samples.middleSmall, firstNight]) {
      const [each] = sarifResults(result);
      expect(each?.baselineState).toBe(undefined);
    }
  });
});
