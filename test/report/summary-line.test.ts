import { describe, expect, it } from 'vitest';
import { durationWords, summaryLine } from '../../src/report/summary-line.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { healthy, samples } from './saltmarsh.ts';

const { survey: _survey, ...unread } = healthy;
const nothing = { met: 0, broken: 0, undetermined: 0, waived: 0, notApplicable: 7 };

describe('the line of counts', () => {
  const rows: readonly (readonly [string, AuditResult, string])[] = [
    [
      'all met',
      healthy,
      '20 judged: 20 met, 0 broken, 0 undetermined; 3 nodes read 2026-11-25 02:00 UTC',
    ],
    [
      'hops on the word of the owner',
      samples.onWord,
      '20 judged: 20 met (2 hops on your word), 0 broken, 0 undetermined; 3 nodes read 2026-11-25 02:00 UTC',
    ],
    [
      'a node that was not read',
      samples.deadSwitch,
      '12 judged: 9 met, 0 broken, 3 undetermined; 2 of 3 nodes read 2026-11-25 02:00 UTC',
    ],
    [
      'waivers',
      { ...healthy, judgement: { ...healthy.judgement, tally: { ...nothing, waived: 2 } } },
      '2 judged: 0 met, 0 broken, 0 undetermined, 2 waived; 3 nodes read 2026-11-25 02:00 UTC',
    ],
    [
      'nothing judged',
      { ...healthy, judgement: { ...healthy.judgement, tally: nothing } },
      'nothing was judged; 3 nodes read 2026-11-25 02:00 UTC',
    ],
    [
      'a survey of three days ago',
      { ...healthy, endedAt: '2026-11-28T03:00:00.000Z' },
      '20 judged: 20 met, 0 broken, 0 undetermined; 3 nodes read 2026-11-25 02:00 UTC (3 days ago)',
    ],
    ['no survey', unread, '20 judged: 20 met, 0 broken, 0 undetermined; nothing was read'],
  ];
  for (const [name, result, line] of rows) {
    it(name, () => expect(summaryLine(result)).toBe(line));
  }
});

describe('a duration', () => {
  const rows = [
    [0, '0.0 s'],
    [2199, '2.1 s'],
    [10_000, '10 s'],
    [119_999, '119 s'],
    [120_000, '2 min'],
    [7_200_000, '2 h'],
    [172_800_000, '2 days'],
  ] as const;
  for (const [ms, words] of rows) it(words, () => expect(durationWords(ms)).toBe(words));
});
