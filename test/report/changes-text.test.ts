import { describe, expect, it } from 'vitest';
import type { Change } from '../../src/drift/known-node.ts';
import type { LivingFinding, OpenFinding } from '../../src/drift/settle-findings.ts';
import type { Waiver } from '../../src/intent/types.ts';
import type { Finding } from '../../src/judge/types.ts';
import { changesText } from '../../src/report/changes-text.ts';
import { resultStatus } from '../../src/report/result-status.ts';
import type { AuditResult, Moved } from '../../src/report/types.ts';
import { firstNight, secondNight } from '../drift/nights.ts';
import { openOn } from '../history/store.ts';
import { expectGolden } from './golden.ts';
import { deadSwitch, endSmallAndSlow, healthy, middleSmall } from './saltmarsh.ts';
import { at } from './samples.ts';

const look = { width: 80, colour: false, verbose: false };
const quiet: Moved = {
  first: false,
  lastAt: firstNight,
  settlement: { living: [], cleared: [], open: [] },
  changes: [],
  growths: [],
  asleep: [],
  idleWaivers: [],
  endedWaivers: [],
};

function lives(
  { judgement }: AuditResult,
  life: LivingFinding['life'],
): Moved['settlement']['living'] {
  return judgement.findings.map((finding) => ({ finding, life, since: secondNight }));
}

function moved(living: Moved['settlement']['living'], over: Partial<Moved> = {}): Moved {
  return { ...quiet, settlement: { ...quiet.settlement, living }, ...over };
}

function cleared(...findings: readonly OpenFinding[]): Moved['settlement'] {
  return { ...quiet.settlement, cleared: findings };
}

const where = { node: 'quay-sw', port: 'xg3', seenAt: firstNight } as const;
const shrunk: Change = { kind: 'fact', ...where, fact: 'mtuBytes', was: 9216, is: 1500 };
const waiver: Waiver = {
  rule: 'duplex-full',
  on: 'quay-sw:xg2',
  until: '2026-11-24',
  because: 'an old plotter',
  place: at(50),
};

const cases: readonly (readonly [name: string, result: AuditResult, moved: Moved])[] = [
  ['first', middleSmall, { ...moved(lives(middleSmall, 'new')), first: true }],
  ['first-healthy', healthy, { ...quiet, first: true }],
  ['new', middleSmall, moved(lives(middleSmall, 'new'), { changes: [shrunk] })],
  ['new-and-standing', endSmallAndSlow, moved(lives(endSmallAndSlow, 'new').slice(1))],
  ['worse', middleSmall, moved(lives(middleSmall, 'worsened'))],
  [
    'not-read',
    deadSwitch,
    moved(lives(deadSwitch, 'new'), { asleep: [{ node: 'quay-sw', seenAt: firstNight }] }),
  ],
  [
    'cleared',
    healthy,
    {
      ...quiet,
      settlement: cleared(
        openOn(firstNight),
        openOn(firstNight, { id: 'b2', rule: 'port-carries-mtu' }),
        openOn('2026-10-01T02:00:00.000Z', {
          id: 'c3',
          cause: 'link vault:eth4',
          subject: { kind: 'port', id: 'vault:eth4' },
          what: 'runs at 1000 of the declared 10000 Mb/s',
        }),
      ),
    },
  ],
  [
    'read-again',
    healthy,
    {
      ...quiet,
      settlement: cleared(
        ...['loft-sw', 'loft-sw:p1'].map((id) =>
          openOn(firstNight, { id, verdict: 'undetermined', cause: 'node loft-sw' }),
        ),
        openOn(firstNight, { id: 'b2', verdict: 'undetermined', cause: 'plotting' }),
      ),
    },
  ],
  [
    'moved',
    healthy,
    {
      ...quiet,
      changes: [
        { ...shrunk, why: 'the node restarted between' },
        { ...shrunk, fact: 'speedMbps', was: 10_000, is: 1000, seenAt: '2026-11-19T02:00:05.000Z' },
        {
          kind: 'fact',
          node: 'vault',
          fact: 'osVersion',
          was: '6.1',
          is: '6.12',
          seenAt: firstNight,
        },
        { kind: 'port-gone', node: 'vault', port: 'eth4', seenAt: firstNight },
        // Of a port that nothing declares.
        { ...shrunk, port: 'xg40' },
      ],
    },
  ],
  ['waivers', healthy, { ...quiet, endedWaivers: [waiver], idleWaivers: [waiver] }],
  [
    'faults',
    {
      ...healthy,
      judgement: {
        ...healthy.judgement,
        faults: ['xg2', 'xg3'].map((port) => ({
          policy: 'own',
          rule: 'own-rule',
          subject: `quay-sw:${port}`,
          what: 'divides by zero',
          place: at(3),
        })),
      },
    },
    quiet,
  ],
];

describe('what moved since the audit before', () => {
  it.each(cases)('%s', (name, result, happened) => {
    expectGolden(`changes-${name}.txt`, changesText(result, happened, look));
  });

  it.each<[string, AuditResult, Moved]>([
    ['nothing moved', healthy, quiet],
    ['what stands, stands', middleSmall, moved(lives(middleSmall, 'standing'))],
    ['what waits for a second night', middleSmall, moved(lives(middleSmall, 'waiting'))],
    ['only what grew', healthy, { ...quiet, growths: [{ ...where, fact: 'rxErrors', added: 3 }] }],
    ['a port that nothing declares', healthy, { ...quiet, changes: [{ ...shrunk, port: 'xg40' }] }],
    ['a node that sleeps', healthy, { ...quiet, asleep: [{ node: 'plot-1' }] }],
    [
      'a waiver that is new',
      middleSmall,
      moved(
        lives(middleSmall, 'new').map((each) => ({
          ...each,
          finding: { ...each.finding, verdict: 'waived', beneath: 'broken', waiver },
        })),
      ),
    ],
  ])('is nothing: %s', (_, result, happened) => {
    expect(changesText(result, happened, look)).toBe('');
  });

  it('writes fifty of a kind, and counts the others; all with --verbose', () => {
    const living = Array.from({ length: 53 }, (_, n): LivingFinding => {
      const [finding] = middleSmall.judgement.findings as [Finding];
      const port = `quay-sw:g${n}`;
      return {
        finding: { ...finding, id: port, cause: port, subject: { kind: 'port', id: port } },
        life: 'new',
        since: secondNight,
      };
    });
    const titles = (verbose: boolean) =>
      changesText(middleSmall, moved(living), { ...look, verbose })
        .split('\n')
        .filter((line) => line.startsWith('  error: ')).length;
    expect([titles(false), titles(true)]).toEqual([50, 53]);
    expect(changesText(middleSmall, moved(living), look)).toContain(
      '\n  3 more; --verbose writes all\n',
    );
  });

  it('is no wider than the terminal, and coloured only where asked', () => {
    const narrow = changesText(middleSmall, moved(lives(middleSmall, 'new')), {
      ...look,
      width: 50,
    });
    expect(Math.max(...narrow.split('\n').map((line) => line.length))).toBeLessThanOrEqual(50);
    const coloured = changesText(middleSmall, moved(lives(middleSmall, 'new')), {
      ...look,
      colour: true,
    });
    expect(coloured).toContain('\u001b[1mNew\u001b[22m');
  });

  it('leads with what counts', () => {
    const notices = lives(endSmallAndSlow, 'new').map((each, n) =>
      n === 0 ? { ...each, finding: { ...each.finding, severity: 'notice' as const } } : each,
    );
    const text = changesText(endSmallAndSlow, moved(notices), look);
    expect(text.indexOf('  warning: ')).toBeLessThan(text.indexOf('  notice: '));
  });
});

describe('the status of a night', () => {
  const fault = { policy: 'own', rule: 'own', subject: 'x', what: 'fails', place: at(3) };
  const faulty = { ...healthy, judgement: { ...healthy.judgement, faults: [fault] } };

  it.each<[string, AuditResult, number]>([
    ['without a history', middleSmall, 1],
    [
      'the first',
      { ...middleSmall, moved: { ...moved(lives(middleSmall, 'new')), first: true } },
      0,
    ],
    ['the first, with a rule that failed', { ...faulty, moved: { ...quiet, first: true } }, 78],
    ['new', { ...middleSmall, moved: moved(lives(middleSmall, 'new')) }, 1],
    ['worse', { ...middleSmall, moved: moved(lives(middleSmall, 'worsened')) }, 1],
    ['standing', { ...middleSmall, moved: moved(lives(middleSmall, 'standing')) }, 0],
    ['waiting', { ...middleSmall, moved: moved(lives(middleSmall, 'waiting')) }, 0],
    ['new, and not read', { ...deadSwitch, moved: moved(lives(deadSwitch, 'new')) }, 2],
    [
      'new, below what counts',
      { ...middleSmall, least: 'error', moved: moved(lives(endSmallAndSlow, 'new').slice(1)) },
      0,
    ],
    ['a rule that failed', { ...faulty, moved: quiet }, 78],
  ])('%s', (_, result, status) => {
    expect(resultStatus(result)).toBe(status);
  });
});
