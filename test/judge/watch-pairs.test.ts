import { describe, expect, it } from 'vitest';
import type { Waiver } from '../../src/intent/types.ts';
import { judge } from '../../src/judge/judge.ts';
import { findingId } from '../../src/judge/make-finding.ts';
import type { WatchedPair } from '../../src/judge/types.ts';
import { policyOf, ruleLines } from './policy-samples.ts';
import { subjectOf } from './subject-of.ts';

const now = '2026-11-25T02:00:00.000Z';
const policies = [
  policyOf(
    ruleLines({ rule: 'mtu', when: 'has(port.declaredMtuBytes)', holds: 'port.mtuBytes >= 9000' }),
    ruleLines({ rule: 'up' }),
  ),
];
const away = { reason: 'unreachable', words: 'may be absent', cause: 'node vault' } as const;
const subjects = [
  subjectOf('port', { id: 'sw:g1', mtuBytes: 9216, declaredMtuBytes: 9000, operUp: true }),
  subjectOf('port', { id: 'sw:g2', mtuBytes: 1500, declaredMtuBytes: 9000, operUp: true }),
  subjectOf('port', { id: 'sw:g3', operUp: true }),
  subjectOf('port', { id: 'vault:eth4', declaredMtuBytes: 9000 }, { mtuBytes: away, operUp: away }),
  subjectOf('node', { id: 'vault', mayBeAbsent: true, read: false }),
];

function pair(rule: string, id: string): WatchedPair {
  const subject = { kind: 'port', id } as const;
  return { id: findingId(rule, subject), rule, subject };
}

function waiver(rule: string, on: string, line: number, until = '2026-12-31'): Waiver {
  return { rule, on, until, because: 'x', place: { file: 'hopgauge.yaml', line, column: 3 } };
}

describe('watched pairs of rule and subject', () => {
  it('tell what came of them where they are no findings, and of no other pair', () => {
    const watch = [
      pair('mtu', 'sw:g1'),
      pair('mtu', 'sw:g2'),
      pair('mtu', 'sw:g3'),
      pair('up', 'sw:g3'),
      pair('gone', 'sw:g1'),
      pair('up', 'unplugged:g9'),
    ];
    const { watched } = judge(subjects, policies, { waivers: [], now, watch });
    expect(watched).toEqual(
      new Map([
        [pair('mtu', 'sw:g1').id, 'met'],
        [pair('mtu', 'sw:g3').id, 'notApplicable'],
        [pair('up', 'sw:g3').id, 'met'],
      ]),
    );
  });
});

describe('waivers of which the rule is met', () => {
  it.each<[string, readonly Waiver[], readonly number[]]>([
    ['met on its port', [waiver('mtu', 'sw:g1', 1)], [1]],
    ['needed', [waiver('mtu', 'sw:g2', 1)], []],
    ['of a rule that does not apply there', [waiver('mtu', 'sw:g3', 1)], []],
    ['of a port that could not be read', [waiver('mtu', 'vault:eth4', 1)], []],
    ['of a port that is not there', [waiver('mtu', 'sw:g9', 1)], []],
    ['past its day', [waiver('mtu', 'sw:g1', 1, '2026-11-24')], []],
    ['two of them', [waiver('up', 'sw:g1', 7), waiver('mtu', 'sw:g1', 8)], [8, 7]],
  ])('%s', (_, waivers, lines) => {
    const { waiversMet } = judge(subjects, policies, { waivers, now });
    expect(waiversMet.map(({ line }) => line)).toEqual(lines);
  });

  it('a waiver of a link end is met only where it is met on every link that it names', () => {
    const links = [
      subjectOf('link', { id: 'a:1 - b:1', ends: ['a:1', 'b:1'], speedsMbps: [1000] }),
      subjectOf('link', { id: 'a:1 - c:1', ends: ['a:1', 'c:1'], speedsMbps: [] }),
    ];
    const policy = policyOf(
      ruleLines({ rule: 'fast', judges: 'link', holds: 'size(link.speedsMbps) > 0' }),
    );
    const met = (subjectsJudged: typeof links) =>
      judge(subjectsJudged, [policy], { waivers: [waiver('fast', 'a:1', 4)], now }).waiversMet;
    expect(met(links.slice(0, 1)).map(({ line }) => line)).toEqual([4]);
    expect(met(links)).toEqual([]);
  });
});

describe('rules that ask for more than one night', () => {
  const patient = ruleLines({
    rule: 'errors',
    holds: 'port.rxCrcErrors < 10',
    beyondDoubt: 'port.rxCrcErrors > 1000',
  }).replace('    says', '    nights: 2\n    says');
  const port = (rxCrcErrors: number) => subjectOf('port', { id: 'sw:g1', rxCrcErrors });
  const denied = { reason: 'denied', words: 'not in the view' } as const;

  it.each([
    ['a little', port(20), 'broken', undefined],
    ['beyond doubt', port(2000), 'broken', true],
    [
      'not read: never beyond doubt',
      subjectOf('port', { id: 'sw:g1' }, { rxCrcErrors: denied }),
      'undetermined',
      undefined,
    ],
  ] as const)('%s', (_, subject, verdict, beyondDoubt) => {
    const { findings } = judge([subject], [policyOf(patient)], { waivers: [], now });
    const [finding] = findings;
    expect([finding?.verdict, finding?.nights, finding?.beyondDoubt]).toEqual([
      verdict,
      2,
      beyondDoubt,
    ]);
  });
});
