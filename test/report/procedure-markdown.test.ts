import { describe, expect, it } from 'vitest';
import { adviceFor } from '../../src/change/advice/advice-for.ts';
import type { AdviceContext } from '../../src/change/advice/types.ts';
import type { ChangeStep, StateCost } from '../../src/change/types.ts';
import { plainMarkdown } from '../../src/report/markdown.ts';
import { procedureMarkdown } from '../../src/report/procedure-markdown.ts';
import type { ProcedureInput } from '../../src/report/procedure-types.ts';
import { context, type Given, step } from '../change/advice/samples.ts';
import { expectGolden } from './golden.ts';

const whole: StateCost = {
  pathsApart: 0,
  pathsCut: 0,
  pathsReduced: 0,
  clearanceLackBytes: 0,
  bounces: 0,
};

interface Planned {
  readonly step: Given<ChangeStep>;
  readonly context?: Given<AdviceContext>;
  readonly where?: string;
  readonly expected?: readonly string[];
}

function inputOf(planned: readonly Planned[], costs: readonly StateCost[]): ProcedureInput {
  const steps = planned.map(({ where, expected = [], ...given }) => {
    const made = step(given.step);
    const advice = adviceFor(made, context(given.context));
    return { step: made, advice, expected, ...(where === undefined ? {} : { where }) };
  });
  return {
    site: 'Saltmarsh survey office',
    about: 'storage to 9000',
    surveyedAt: '2026-11-25T02:00:00.000Z',
    start: whole,
    order: { steps: steps.map((each) => each.step), costs, exact: true, bound: whole },
    steps,
    ways: [
      {
        title: 'two ways for segment storage: all at 9000 bytes, or all at 1500',
        ways: [
          { label: '9000 bytes', words: 'as in this change: 3 steps' },
          { label: '1500 bytes', words: 'nothing to set' },
        ],
        paths: ['plotting at 10 Gb/s: at most 9900.4 Mb/s'],
      },
    ],
    mends: ['plotting carries 9000 bytes from plot-1 to vault'],
    openPoints: ['gate:em0 is in storage and stays at 1500: it is not in the change'],
    confirmCommand: 'hopgauge confirm storage.yaml',
  };
}

const raise: readonly Planned[] = [
  {
    step: {
      node: 'quay-sw',
      port: 'quay-sw:xg2',
      from: 1518,
      to: 9216,
      disturbs: 'node-reload',
      place: { file: 'storage.yaml', line: 3, column: 12 },
    },
    context: { systemKind: 'snmp', portName: 'xg2' },
    where: 'jack W-07, panel B/12',
    expected: ['plotting still carries 1500 bytes: both ends are small'],
  },
  {
    step: { place: { file: 'storage.yaml', line: 3, column: 40 } },
    context: { carriesWayIn: true },
    expected: ['plotting: TCP agrees on 1500 bytes until plot-1 follows'],
  },
  {
    step: {
      node: 'plot-1',
      port: 'plot-1:desk',
      place: { file: 'storage.yaml', line: 4, column: 3 },
    },
    context: { systemKind: 'macos', portName: 'en7', port: { kind: 'physical' } },
    expected: ['plotting carries 9000 bytes'],
  },
];

const costs: readonly StateCost[] = [
  { ...whole, pathsReduced: 1, bounces: 4 },
  { ...whole, pathsReduced: 1, bounces: 1 },
  { ...whole, bounces: 1 },
];

describe('a procedure', () => {
  it('is whole: purpose, checks, gap, steps, back-out, sign-off', () => {
    expectGolden('procedure.md', procedureMarkdown(inputOf(raise, costs)));
  });

  it('goes back in the reverse order of the steps', () => {
    const text = procedureMarkdown(inputOf(raise, costs));
    const headings = text.split('\n').filter((line) => line.startsWith('### '));
    expect(headings).toEqual([
      '### Step 1: mtu of quay-sw:xg2',
      '### Step 2: mtu of vault:eth4',
      '### Step 3: mtu of plot-1:desk',
      '### Undo step 3: mtu of plot-1:desk',
      '### Undo step 2: mtu of vault:eth4',
      '### Undo step 1: mtu of quay-sw:xg2',
    ]);
  });

  it('says so where there is nothing to do', () => {
    const text = procedureMarkdown({ ...inputOf([], []), openPoints: [], mends: [], ways: [] });
    expect(text).toContain('## What is cut meanwhile\n\nNothing: the change has no steps.\n');
    expect(text).toContain('## Purpose\n\nstorage to 9000\n');
    expect(text).not.toContain('## To be settled first');
    expect(text).not.toContain('## Two ways');
  });

  it('says so where nothing was read', () => {
    const { surveyedAt: _, ...paper } = inputOf(raise, costs);
    expect(procedureMarkdown(paper)).toContain('Rehearsed on paper alone: nothing was read.');
  });

  it('lets no text of a file or device become markup', () => {
    const hostile = '](http://evil.example) <img src=x> `a` # b | c\n## d';
    const text = procedureMarkdown({
      ...inputOf([{ step: { node: hostile, port: `${hostile}:p`, to: hostile } }], [whole]),
      site: hostile,
      ways: [
        {
          title: `two ways for ${hostile}`,
          ways: [{ label: hostile, words: hostile }],
          unread: hostile,
          paths: [hostile],
        },
      ],
      about: hostile,
      mends: [hostile],
      openPoints: [hostile],
    });
    expect(text).not.toMatch(/(?<!\\)[<>]|(?<!\\)\]\(|http:\/\//);
    expect(text.split('\n').filter((line) => line.startsWith('## '))).toEqual([
      '## Purpose',
      `## Two ways for ${plainMarkdown(hostile)}`,
      '## Before the first step',
      '## To be settled first',
      '## What is cut meanwhile',
      '## Steps',
      '## After the last step',
      '## Back out of the whole',
      '## Sign-off',
    ]);
  });
});
