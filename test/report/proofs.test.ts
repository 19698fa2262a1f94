import { describe, expect, it } from 'vitest';
import type { FitProof, TransferProof } from '../../src/facts/proof.ts';
import { historyText } from '../../src/report/history-text.ts';
import { jsonReport } from '../../src/report/json-report.ts';
import { provenLines } from '../../src/report/proof-words.ts';
import { redactHistory, redactResult, redactSurvey } from '../../src/report/redact.ts';
import type { SiteDirection } from '../../src/site/types.ts';
import { middleSmall } from './saltmarsh.ts';
import { whole } from './whole.ts';

const there = { from: 'plot-9', to: 'vault', toAddress: '198.18.20.7' };
const fitted: FitProof = {
  ...{ ...there, at: '2026-11-24T03:14:00.000Z' },
  ...{ provenMtuBytes: 8996, lostBytes: 9000, words: 'plot-9 asked 198.18.20.7' },
};
const transfer: TransferProof = {
  ...{ ...there, at: '2026-11-24T03:15:00.000Z' },
  ...{ tookSeconds: 10.02, bytes: 11_750_000_000, streams: 2, goodputMbps: 9412.37 },
};
const survey = {
  survey: 1,
  site: 'Saltmarsh survey office',
  startedAt: '2026-11-24T03:00:00.000Z',
  endedAt: '2026-11-24T03:00:09.000Z',
  nodes: [],
  fits: [fitted],
  transfers: [transfer],
} as const;

function direction(
  from: string,
  to: string,
  facts: SiteDirection['subject']['facts'],
): SiteDirection {
  const id = `plotting: ${from} to ${to}`;
  const shared = { sources: {}, gaps: {} };
  return { id, path: 'plotting', from, to, subject: { kind: 'direction', id, facts, shared } };
}

const [path] = middleSmall.site.paths;
if (path === undefined) throw new Error('the sample has a path');
const passes = { isProven: true, proofSays: '2026-11-24: 9000 bytes pass' };
const fails = { isProven: true, proofSays: '2026-11-24: 1500 bytes pass, 9000 do not' };

describe('what tests have shown of a path', () => {
  const rows: readonly [string, SiteDirection[], string[]][] = [
    ['nothing', [direction('plot-1', 'vault', { isProven: false })], []],
    [
      'the same both ways, once',
      [direction('plot-1', 'vault', passes), direction('vault', 'plot-1', passes)],
      ['tried plot-1 to vault and back, 2026-11-24: 9000 bytes pass'],
    ],
    [
      'another each way, apart',
      [direction('plot-1', 'vault', passes), direction('vault', 'plot-1', fails)],
      [
        'tried plot-1 to vault, 2026-11-24: 9000 bytes pass',
        'tried vault to plot-1, 2026-11-24: 1500 bytes pass, 9000 do not',
      ],
    ],
    [
      'against what was read, as the drawing above it says',
      [direction('plot-1', 'vault', { ...fails, proofAgrees: false })],
      [
        'tried plot-1 to vault, 2026-11-24: 1500 bytes pass, 9000 do not; what was read or declared disagrees',
      ],
    ],
    [
      'a transfer',
      [
        direction('plot-1', 'vault', {
          isMeasured: true,
          measuredOn: '2026-11-24',
          measuredGoodputMbps: 9412.37,
        }),
      ],
      ['measured plot-1 to vault, 2026-11-24: 9.41 Gb/s of TCP payload'],
    ],
  ];
  it.each(rows)('%s', (_, directions, lines) => {
    expect(provenLines(path, directions)).toEqual(lines);
  });

  it('stands beside the path in JSON, and is not there where there is none', () => {
    const proven = {
      ...fails,
      provenOn: '2026-11-24',
      provenMtuBytes: 1500,
      provenLostBytes: 9000,
    };
    const directions = [direction('plot-1', 'vault', proven)];
    const site = { ...middleSmall.site, directions };
    const told = JSON.parse(whole(jsonReport({ ...middleSmall, site })));
    expect(told.paths[0].proofs).toEqual([
      {
        ...{ from: 'plot-1', to: 'vault' },
        ...{ provenOn: '2026-11-24', provenMtuBytes: 1500, provenLostBytes: 9000 },
      },
    ]);
    expect(whole(jsonReport(middleSmall))).not.toContain('"proofs"');
  });
});

describe('proofs behind pseudonyms', () => {
  const hidden: readonly [string, unknown][] = [
    ['a survey', redactSurvey(survey)],
    ['a result', redactResult({ ...middleSmall, survey }).survey],
  ];
  it.each(hidden)('name nobody in %s, and keep times and figures', (_, value) => {
    const text = JSON.stringify(value);
    for (const telling of ['plot-9', 'vault', '198.18.20.7']) expect(text).not.toContain(telling);
    for (const kept of [fitted.at, transfer.at, '8996', '9000', '9412.37']) {
      expect(text).toContain(kept);
    }
  });

  it('name nobody in a history', () => {
    const view = {
      site: 'Saltmarsh survey office',
      timeline: {
        events: [
          { kind: 'proven', at: fitted.at, lastAt: fitted.at, fit: fitted },
          { kind: 'measured', at: transfer.at, lastAt: transfer.at, transfer },
        ],
        truncated: false,
      },
      audits: [],
    } as const;
    expect(historyText(view, 200)).toBe(`Saltmarsh survey office
  2026-11-24 03:14 UTC  plot-9 to vault: 8996 bytes pass, 9000 do not (plot-9 asked 198.18.20.7)
  2026-11-24 03:15 UTC  plot-9 to vault: 9.41 Gb/s of TCP payload for 10 s over 2 streams
`);
    const text = historyText(redactHistory(view, { surveys: [] }), 200);
    for (const telling of ['plot-9', 'vault', '198.18.20.7']) expect(text).not.toContain(telling);
    expect(text).toContain('8996 bytes pass');
  });
});
