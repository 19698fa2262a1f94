import { describe, expect, it } from 'vitest';
import type { Confirmation, StepOutcome } from '../../src/change/confirmation.ts';
import type { Severity } from '../../src/judge/types.ts';
import { confirmStatus } from '../../src/report/confirm-status.ts';

const whole: Confirmation = {
  confirmation: 1,
  site: 'Saltmarsh survey office',
  change: 'change.yaml',
  rehearsedAt: '2026-11-25T02:10:00.000Z',
  beforeAt: '2026-11-25T02:00:00.000Z',
  readAt: '2026-11-25T03:00:00.000Z',
  upTo: 1,
  steps: [],
  followers: [],
  paths: [],
  ways: [],
  findings: { mended: [], notMended: [], broken: [], brokenAsForetold: [], unknown: [] },
  moved: [],
  errors: [],
  bounces: [],
  unread: [],
  uncounted: [],
};

const step = (verdict: StepOutcome['verdict'], expected = true): Partial<Confirmation> => ({
  steps: [
    {
      ...{ number: 1, id: 'mtu vault:eth4', on: 'vault:eth4', node: 'vault' },
      ...{ setting: 'mtu', to: 9000, verdict, expected, ahead: false },
    },
  ],
});
const path = (verdict: Confirmation['paths'][number]['verdict']): Partial<Confirmation> => {
  const state = { id: 'plotting', joined: true };
  return { paths: [{ id: 'plotting', verdict, foretold: state, found: state }] };
};
const follower = (is?: number): Partial<Confirmation> => ({
  followers: [
    {
      ...{ on: 'vault:eth5', node: 'vault', portName: 'eth5', fact: 'mtuBytes', foretold: 9000 },
      ...(is === undefined ? {} : { is }),
    },
  ],
});
const rule = (
  list: keyof Confirmation['findings'],
  severity: Severity = 'warning',
): Partial<Confirmation> => ({
  findings: {
    ...whole.findings,
    [list]: [
      {
        ...{ id: '0123456789', policy: 'own', rule: 'one', severity, cause: 'c', what: 'w' },
        subject: { kind: 'port', id: 'vault:eth4' },
      },
    ],
  },
});
const unread = (readBefore: boolean, mayBeAbsent: boolean): Partial<Confirmation> => ({
  unread: [{ node: 'plot-1', words: 'no answer', readBefore, mayBeAbsent }],
});
const growth = { node: 'vault', port: 'eth4', fact: 'rxCrcErrors', added: 1 };

describe('the status of a confirmation', () => {
  it.each<[string, Partial<Confirmation>, number]>([
    ['nothing to say', {}, 0],
    ['a step done', step('done'), 0],
    ['a step not done', step('not-done'), 1],
    ['a step with another value', step('other'), 1],
    ['a step that cannot be told', step('cannot-tell'), 2],
    ['a later step not done', step('not-done', false), 0],
    ['a later step with another value', step('other', false), 0],
    ['a later step that cannot be told', step('cannot-tell', false), 0],
    ['a follower otherwise', follower(1500), 1],
    ['a follower not read', follower(), 2],
    ['a path with less', path('less'), 1],
    ['a path with more', path('more'), 0],
    ['a path that cannot be told', path('cannot-tell'), 2],
    ['a path that was never known', path('never-known'), 0],
    ['a way with less', { ways: [{ id: 'w', what: 'leaves', verdict: 'less' }] }, 1],
    ['a way not known', { ways: [{ id: 'w', what: 'leaves', verdict: 'cannot-tell' }] }, 2],
    ['a rule newly broken', rule('broken'), 1],
    ['a notice newly broken', rule('broken', 'notice'), 0],
    ['a rule not mended', rule('notMended'), 1],
    ['a rule broken as foretold', rule('brokenAsForetold', 'error'), 0],
    ['a rule mended', rule('mended'), 0],
    ['a rule that cannot be told', rule('unknown'), 2],
    ['a notice that cannot be told', rule('unknown', 'notice'), 0],
    ['errors', { errors: [growth] }, 1],
    ['a link that went down beside a step', { bounces: [growth] }, 0],
    ['a node that was read before', unread(true, false), 2],
    ['a node that sleeps', unread(true, true), 0],
    ['a node that was not read before', unread(false, false), 0],
    ['counters that began again', { uncounted: [{ node: 'vault', byChange: false }] }, 2],
    ['counters that a step may begin again', { uncounted: [{ node: 'vault', byChange: true }] }, 0],
  ])('%s', (_, part, wanted) => {
    expect(confirmStatus({ ...whole, ...part }, 'warning')).toBe(wanted);
  });

  it('is that of what is wrong where something cannot be told as well', () => {
    expect(
      confirmStatus({ ...whole, ...path('cannot-tell'), ...step('not-done') }, 'warning'),
    ).toBe(1);
  });

  it('counts notices where they are asked for', () => {
    expect(confirmStatus({ ...whole, ...rule('broken', 'notice') }, 'notice')).toBe(1);
  });
});
