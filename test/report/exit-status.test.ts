import { describe, expect, it } from 'vitest';
import type { Finding, Judgement, Severity } from '../../src/judge/types.ts';
import { exitStatus } from '../../src/report/exit-status.ts';
import { middleSmall } from './saltmarsh.ts';

type Sketch = readonly [Finding['verdict'], Severity];

function judgement(findings: readonly Sketch[], rest: Partial<Judgement> = {}): Judgement {
  const [base] = middleSmall.judgement.findings;
  if (base === undefined) throw new Error('no finding to copy');
  const tally = { met: 1, broken: 0, undetermined: 0, waived: 0, notApplicable: 0 };
  return {
    ...middleSmall.judgement,
    findings: findings.map(([verdict, severity]) => ({ ...base, verdict, severity })),
    tally,
    ...rest,
  };
}
const none = { met: 0, broken: 0, undetermined: 0, waived: 0, notApplicable: 5 };
const place = { file: 'own.yaml', line: 1, column: 1 };
const fault = { policy: 'own', rule: 'odd', subject: 'vault', what: 'division by 0', place };

const rows: readonly [string, Judgement, Severity, number][] = [
  ['all met', judgement([]), 'warning', 0],
  ['an error broken', judgement([['broken', 'error']]), 'warning', 1],
  ['a warning broken', judgement([['broken', 'warning']]), 'warning', 1],
  ['a notice broken', judgement([['broken', 'notice']]), 'warning', 0],
  ['a notice broken, asked for', judgement([['broken', 'notice']]), 'notice', 1],
  ['a warning broken, below', judgement([['broken', 'warning']]), 'error', 0],
  ['undetermined', judgement([['undetermined', 'warning']]), 'warning', 2],
  ['undetermined notice', judgement([['undetermined', 'notice']]), 'warning', 0],
  [
    'broken and undetermined',
    judgement([
      ['undetermined', 'error'],
      ['broken', 'warning'],
    ]),
    'warning',
    1,
  ],
  [
    'undetermined error and broken notice',
    judgement([
      ['undetermined', 'error'],
      ['broken', 'notice'],
    ]),
    'warning',
    2,
  ],
  ['waived', judgement([['waived', 'error']]), 'notice', 0],
  ['nothing judged', judgement([], { tally: none }), 'warning', 2],
  ['a rule failed', judgement([], { faults: [fault] }), 'warning', 78],
  ['a rule failed, one broken', judgement([['broken', 'error']], { faults: [fault] }), 'error', 1],
  ['257 broken', judgement(Array(257).fill(['broken', 'error'])), 'warning', 1],
];

describe('exitStatus', () => {
  for (const [name, given, least, expected] of rows) {
    it(name, () => expect(exitStatus(given, least)).toBe(expected));
  }
});
