import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import type { Subject } from '../../src/facts/subject.ts';
import type { Waiver } from '../../src/intent/types.ts';
import { judge, judgedNothing } from '../../src/judge/judge.ts';
import { policyOf, ruleLines, sampleFile } from './policy-samples.ts';
import { subjectOf } from './subject-of.ts';

const day = { waivers: [], now: '2027-01-15' };
const denied = { reason: 'denied', words: 'not in\u0007the view' } as const;
const deadVault = { reason: 'unreachable', words: 'no answer', cause: 'node vault' } as const;

const mtuRule = ruleLines({
  rule: 'mtu',
  when: 'has(port.declaredMtuBytes)',
  holds: 'port.mtuBytes >= port.declaredMtuBytes',
  says: 'has {port.mtuBytes} of {port.declaredMtuBytes} bytes',
  advice: 'raise {port.id}',
  cause: 'mtu {port.id}',
});

const wide = subjectOf('port', { id: 'sw:g1', mtuBytes: 9216, declaredMtuBytes: 9000 });
const narrow: Subject = {
  ...subjectOf('port', { id: 'sw:g2', mtuBytes: 1500, declaredMtuBytes: 9000 }),
  own: { sources: { mtuBytes: 'IF-MIB ifMtu' }, gaps: {} },
  place: { file: 'hopgauge.yaml', line: 7, column: 3 },
};
const hidden = subjectOf('port', { id: 'sw:g3', declaredMtuBytes: 9000 }, { mtuBytes: denied });
const unasked = subjectOf('port', { id: 'sw:g4', mtuBytes: 1500 });

describe('judge', () => {
  it('gives each verdict its place in the tally and each finding its evidence', () => {
    const judgement = judge([wide, narrow, hidden, unasked], [policyOf(mtuRule)], day);
    expect(judgement).toEqual({
      faults: [],
      metByRule: [{ policy: 'own', rule: 'mtu', met: 1 }],
      waiversExpired: [],
      waiversMet: [],
      watched: new Map(),
      tally: { met: 1, broken: 1, undetermined: 1, waived: 0, notApplicable: 1, excused: 0 },
      findings: [
        {
          id: createHash('sha256').update('mtu\0port\0sw:g2').digest('hex').slice(0, 10),
          policy: 'own',
          rule: 'mtu',
          severity: 'error',
          verdict: 'broken',
          subject: { kind: 'port', id: 'sw:g2' },
          cause: 'mtu sw:g2',
          what: 'has 1500 of 9000 bytes',
          evidence: [
            { fact: 'port.mtuBytes', value: 1500, unit: 'bytes', source: 'IF-MIB ifMtu' },
            {
              fact: 'port.declaredMtuBytes',
              value: 9000,
              unit: 'bytes',
              source: 'intent segments.*.mtu, paths.*.mtu',
            },
          ],
          advice: 'raise sw:g2',
          declaredAt: { file: 'hopgauge.yaml', line: 7, column: 3 },
          source: 'common practice',
        },
        {
          id: createHash('sha256').update('mtu\0port\0sw:g3').digest('hex').slice(0, 10),
          policy: 'own',
          rule: 'mtu',
          severity: 'error',
          verdict: 'undetermined',
          subject: { kind: 'port', id: 'sw:g3' },
          cause: 'unknown port.mtuBytes of sw:g3',
          what: 'cannot be judged: the fact mtuBytes is not known (not in the view)',
          evidence: [
            { fact: 'port.mtuBytes', gap: denied, unit: 'bytes' },
            {
              fact: 'port.declaredMtuBytes',
              value: 9000,
              unit: 'bytes',
              source: 'intent segments.*.mtu, paths.*.mtu',
            },
          ],
          advice: 'raise sw:g3',
          source: 'common practice',
        },
      ],
    });
  });

  it('explains `when` where it is what is not known', () => {
    const port = subjectOf('port', { id: 'p', mtuBytes: 1 }, { declaredMtuBytes: denied });
    const [finding] = judge([port], [policyOf(mtuRule)], day).findings;
    expect(finding?.verdict).toBe('undetermined');
    expect(finding?.evidence.map(({ fact }) => fact)).toEqual(['port.declaredMtuBytes']);
  });

  it('gives a fact that nothing was expected to give a reason from the dictionary', () => {
    const rule = ruleLines({ holds: 'port.vlanId > 1' });
    const [finding] = judge([subjectOf('port', { id: 'p' })], [policyOf(rule)], day).findings;
    expect(finding?.evidence).toEqual([
      { fact: 'port.vlanId', gap: { reason: 'unasked', words: 'not a VLAN interface' } },
    ]);
  });

  it('never meets a rule over a list that could not be read', () => {
    const rule = ruleLines({ holds: 'port.addresses.all(a, a != "x")' });
    const port = subjectOf('port', { id: 'p' }, { addresses: denied });
    expect(judge([port], [policyOf(rule)], day).tally).toMatchObject({ met: 0, undetermined: 1 });
  });

  it('orders by severity, verdict, subjects as given and rules', () => {
    const rules = policyOf(
      ruleLines({ rule: 'n', severity: 'notice' }),
      ruleLines({ rule: 'w', severity: 'warning' }),
      ruleLines({ rule: 'e2' }),
      ruleLines({ rule: 'e1' }),
    );
    const down = (id: string) => subjectOf('port', { id, operUp: false });
    const dark = subjectOf('port', { id: 'p2' }, { operUp: denied });
    const waivers = [waiver({ rule: 'e1', on: 'p10' })];
    const { findings } = judge([down('p10'), dark, down('p9')], [rules], { ...day, waivers });
    expect(findings.map((f) => `${f.severity} ${f.verdict} ${f.subject.id} ${f.rule}`)).toEqual([
      'error broken p10 e2',
      'error broken p9 e2',
      'error broken p9 e1',
      'error undetermined p2 e2',
      'error undetermined p2 e1',
      'error waived p10 e1',
      'warning broken p10 w',
      'warning broken p9 w',
      'warning undetermined p2 w',
      'notice broken p10 n',
      'notice broken p9 n',
      'notice undetermined p2 n',
    ]);
  });

  it('gives equal findings for equal input and changes none of it', () => {
    const subjects = [wide, narrow, hidden, unasked];
    const before = JSON.stringify(subjects);
    const first = JSON.stringify(judge(subjects, [policyOf(mtuRule)], day));
    expect(JSON.stringify(judge(subjects, [policyOf(mtuRule)], day))).toBe(first);
    expect(JSON.stringify(judge(subjects, [policyOf(mtuRule)], { ...day, strict: true }))).toBe(
      first,
    );
    expect(JSON.stringify(subjects)).toBe(before);
  });

  it('reports a rule that fails on a subject as a fault of the rule', () => {
    const rule = ruleLines({ rule: 'sum', holds: 'port.mtuBytes * 1e308 * 10.0 > 1.0' });
    const judgement = judge([wide, unasked], [policyOf(rule)], day);
    expect(judgement.findings).toEqual([]);
    expect(judgement.faults).toEqual(
      ['sw:g1', 'sw:g4'].map((subject) => ({
        policy: 'own',
        rule: 'sum',
        subject,
        what: 'the result is beyond all numbers',
        place: { file: sampleFile, line: 4, column: 11 },
      })),
    );
    expect(judgedNothing(judgement)).toBe(true);
  });
});

describe('causes', () => {
  const cause = (subject: Subject, keys: Readonly<Record<string, string>>) =>
    judge([subject], [policyOf(ruleLines(keys))], day).findings[0]?.cause;

  it.each([
    ['the rule and the subject by default', { id: 'p', operUp: false }, {}, {}, 'sample p'],
    ['the rule’s own text', { id: 'p', operUp: false }, {}, { cause: 'x {port.id}' }, 'x p'],
    [
      'the default where a part is not known',
      { id: 'p', operUp: false },
      {},
      { cause: 'x {port.farPort}' },
      'sample p',
    ],
    ['that of the gap', { id: 'p' }, { operUp: deadVault }, { cause: 'x {port.id}' }, 'node vault'],
    [
      'the facts waited for, where no gap has one',
      { id: 'p' },
      { operUp: denied },
      { cause: 'x' },
      'unknown port.operUp of p',
    ],
    [
      'all facts waited for, where one gap has none',
      { id: 'p' },
      { operUp: deadVault, adminUp: denied },
      { holds: 'port.operUp && port.adminUp' },
      'unknown port.operUp, port.adminUp of p',
    ],
    [
      'the default where no fact is missing',
      { id: 'p', tags: 0 },
      {},
      { holds: '1 / port.tags > 1' },
      'sample p',
    ],
  ])('are %s', (_name, facts, gaps, keys, expected) => {
    expect(cause(subjectOf('port', facts, gaps), keys)).toBe(expected);
  });
});

describe('nodes that may be absent', () => {
  const rules = [
    policyOf(
      ruleLines({ rule: 'r', judges: 'node', holds: 'node.read' }),
      ruleLines({ rule: 'p', holds: 'port.operUp' }),
    ),
  ];
  const gap = { ...deadVault, cause: 'node plot-1' };
  const port = subjectOf('port', { id: 'plot-1:en7' }, { operUp: gap });
  const node = (facts: Record<string, boolean>, read = gap) =>
    subjectOf('node', { name: 'plot-1', ...facts }, { read });

  it.each([
    ['sleeps and gives no answer', node({ sleeps: true }), 2],
    ['may be absent and gives no answer', node({ mayBeAbsent: true }), 2],
    ['should be there', node({ sleeps: false }), 0],
    [
      'sleeps, answers and refuses',
      node({ sleeps: true }, { ...gap, reason: 'denied' } as never),
      0,
    ],
  ])('a node that %s', (_name, subject, excused) => {
    const judgement = judge([subject, port], rules, day);
    expect(judgement.tally).toMatchObject({ excused, undetermined: 2 - excused });
    expect(judgement.findings.map((f) => f.cause)).toEqual(
      excused ? [] : ['node plot-1', 'node plot-1'],
    );
    expect(judgedNothing(judgement)).toBe(excused === 2);
  });

  it('does not excuse what waits for something else as well', () => {
    const both = policyOf(ruleLines({ holds: 'port.operUp && port.adminUp' }));
    const other = subjectOf('port', { id: 'p' }, { operUp: gap, adminUp: deadVault });
    const { tally } = judge([node({ sleeps: true }), other], [both], day);
    expect(tally).toMatchObject({ excused: 0, undetermined: 1 });
  });
});

describe('strict', () => {
  const rules = [
    policyOf(
      ruleLines({ rule: 'path', judges: 'path', holds: 'path.carriesDeclaredMtu' }),
      ruleLines({ rule: 'port', holds: 'port.carriesDeclaredMtu' }),
    ),
  ];
  const path = (carries: boolean) =>
    subjectOf('path', { id: 'p', carriesDeclaredMtu: carries, hopsOnWord: ['loft-sw:1'] });
  const port = (carries: boolean) =>
    subjectOf('port', { id: 'loft-sw:1', node: 'loft-sw', carriesDeclaredMtu: carries });

  it('counts what rests on the word of the owner as met, and with strict as undetermined', () => {
    const subjects = [
      path(true),
      port(true),
      subjectOf('port', { id: 'x:1', carriesDeclaredMtu: true }),
    ];
    expect(judge(subjects, rules, day).tally).toMatchObject({ met: 3, undetermined: 0 });
    const { tally, findings } = judge(subjects, rules, { ...day, strict: true });
    expect(tally).toMatchObject({ met: 1, undetermined: 2 });
    expect(findings.map(({ cause }) => cause)).toEqual([
      'word for loft-sw:1',
      'word for loft-sw:1',
    ]);
  });

  it('keeps what is broken', () => {
    const { tally } = judge([path(false), port(false)], rules, { ...day, strict: true });
    expect(tally).toMatchObject({ broken: 2, undetermined: 0 });
  });
});

function waiver(keys: Partial<Waiver>): Waiver {
  const place = { file: 'hopgauge.yaml', line: 30, column: 5 };
  return { rule: 'mtu', on: 'sw:g2', until: '2027-01-15', because: 'by design', place, ...keys };
}

describe('waivers', () => {
  const withWaiver = (keys: Partial<Waiver>) =>
    judge([narrow, hidden], [policyOf(mtuRule)], { ...day, waivers: [waiver(keys)] });

  it('waives to the end of its last day, and keeps the verdict beneath', () => {
    const { tally, findings, waiversExpired } = withWaiver({});
    expect(tally).toMatchObject({ broken: 0, waived: 1, undetermined: 1 });
    expect(findings.at(-1)).toMatchObject({
      verdict: 'waived',
      beneath: 'broken',
      what: 'has 1500 of 9000 bytes',
      waiver: { until: '2027-01-15', because: 'by design', place: waiver({}).place },
    });
    expect(waiversExpired).toEqual([]);
  });

  it('takes the day of a time', () => {
    const waivers = [waiver({})];
    const at = (now: string) => judge([narrow], [policyOf(mtuRule)], { now, waivers }).tally.waived;
    expect([at('2027-01-15T23:59:59.000Z'), at('2027-01-16T00:00:00.000Z')]).toEqual([1, 0]);
  });

  it('is a finding of its own when it is past its day, beside what it waived', () => {
    const { tally, findings, waiversExpired } = withWaiver({ until: '2027-01-14' });
    expect(tally).toMatchObject({ broken: 2, waived: 0 });
    expect(waiversExpired).toEqual([waiver({}).place]);
    const [ended] = findings.filter(({ policy }) => policy === 'waivers');
    expect(ended).toMatchObject({
      rule: 'waiver-ended',
      severity: 'warning',
      verdict: 'broken',
      subject: { kind: 'port', id: waiver({}).on },
      what: `the waiver of ${waiver({}).rule} ended on 2027-01-14`,
      declaredAt: waiver({}).place,
    });
  });

  it.each([
    ['names another rule', { rule: 'mut' }],
    ['names no subject', { on: 'sw:g9' }],
    ['names the node of a port', { on: 'sw' }],
  ])('does not waive and is listed when it %s', (_name, keys) => {
    const { tally, waiversExpired } = withWaiver(keys);
    expect(tally).toMatchObject({ broken: 1, waived: 0 });
    expect(waiversExpired).toEqual([waiver({}).place]);
  });

  it('waives what is undetermined as well', () => {
    expect(withWaiver({ on: 'sw:g3' }).findings.at(-1)).toMatchObject({
      verdict: 'waived',
      beneath: 'undetermined',
    });
  });

  it('is not listed while its rule is met', () => {
    const waivers = [waiver({ on: 'sw:g1' })];
    expect(judge([wide], [policyOf(mtuRule)], { ...day, waivers }).waiversExpired).toEqual([]);
  });

  it.each([
    ['a link by its id', 'link', { id: 'a:1 - b:2', ends: ['a:1', 'b:2'] }, 'a:1 - b:2', 1],
    ['a link by its other end', 'link', { id: 'a:1 - b:2', ends: ['a:1', 'b:2'] }, 'b:2', 1],
    ['no link by a node', 'link', { id: 'a:1 - b:2', ends: ['a:1', 'b:2'] }, 'b', 0],
    ['a segment', 'segment', { name: 'storage' }, 'storage', 1],
    ['one pair of a path', 'path', { id: 'plotting (a to b)', name: 'plotting' }, 'plotting', 1],
    [
      'a direction by its path',
      'direction',
      { id: 'plotting: a to b', path: 'plotting (a to b)' },
      'plotting',
      1,
    ],
    [
      'no direction of another path',
      'direction',
      { id: 'plotting: a to b', path: 'plotting' },
      'plot',
      0,
    ],
    ['a node', 'node', { name: 'vault' }, 'vault', 1],
  ] as const)('names %s', (_name, kind, facts, on, waived) => {
    const rule = ruleLines({ rule: 'mtu', judges: kind, holds: 'false' });
    const { tally } = judge([subjectOf(kind, facts)], [policyOf(rule)], {
      ...day,
      waivers: [waiver({ on })],
    });
    expect(tally.waived).toBe(waived);
  });
});
