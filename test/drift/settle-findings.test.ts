import { describe, expect, it } from 'vitest';
import { type OpenFinding, settleFindings, type Tonight } from '../../src/drift/settle-findings.ts';
import type { Finding } from '../../src/judge/types.ts';

function finding(over: Partial<Finding> = {}): Finding {
  return {
    id: 'a1',
    policy: 'jumbo',
    rule: 'path-clearance',
    severity: 'error',
    verdict: 'broken',
    subject: { kind: 'path', id: 'plotting' },
    cause: 'mtu quay-sw:xg2',
    what: 'carries at most 1500',
    evidence: [],
    source: 'RFC 1191',
    ...over,
  };
}

const before = '2026-11-24T02:00:00.000Z';
const at = '2026-11-25T02:00:00.000Z';

function open(over: Partial<OpenFinding> = {}): OpenFinding {
  const { id, policy, rule, severity, subject, cause, what } = finding();
  const life = { since: before, lastAt: before, nights: 1, told: true };
  return { id, policy, rule, severity, verdict: 'broken', subject, cause, what, ...life, ...over };
}

const tonight = (verdict: ReturnType<Tonight['absentVerdict']> = 'met'): Tonight => ({
  at,
  absentVerdict: () => verdict,
});

describe('the life of a finding', () => {
  it.each<[string, Finding, OpenFinding | undefined, string]>([
    ['seen for the first time', finding(), undefined, 'new'],
    ['there as before', finding(), open(), 'standing'],
    ['unknown before and broken now', finding(), open({ verdict: 'undetermined' }), 'worsened'],
    ['graver than before', finding(), open({ severity: 'warning' }), 'worsened'],
    ['milder than before', finding({ severity: 'notice' }), open(), 'standing'],
    ['its waiver ended', finding(), open({ verdict: 'waived' }), 'worsened'],
    ['a waiver began', finding({ verdict: 'waived', beneath: 'broken' }), open(), 'standing'],
    ['broken before and unreadable now', finding({ verdict: 'undetermined' }), open(), 'standing'],
    ['the first of two nights', finding({ nights: 2 }), undefined, 'waiting'],
    ['the second of two nights', finding({ nights: 2 }), open({ told: false }), 'new'],
    ['the third of two nights', finding({ nights: 2 }), open({ nights: 2 }), 'standing'],
    ['bad beyond doubt', finding({ nights: 2, beyondDoubt: true }), undefined, 'new'],
  ])('%s', (_, now, was, life) => {
    const settled = settleFindings([now], was === undefined ? [] : [was], tonight());
    expect(settled.living.map((each) => each.life)).toEqual([life]);
    expect(settled.cleared).toEqual([]);
  });

  it('keeps since when it is there, and that it was told', () => {
    const { living, open: left } = settleFindings([finding()], [open()], tonight());
    expect(living).toEqual([{ finding: finding(), life: 'standing', since: before }]);
    expect(left).toEqual([open({ lastAt: at, nights: 2 })]);
  });

  it('keeps what was broken as broken while it cannot be read', () => {
    const unread = finding({ verdict: 'undetermined', what: 'cannot be judged' });
    const settled = settleFindings([unread], [open()], tonight());
    expect(settled.open[0]).toMatchObject({ verdict: 'broken', what: 'carries at most 1500' });
    const again = settleFindings([finding()], settled.open, tonight());
    expect(again.living.map(({ life }) => life)).toEqual(['standing']);
  });

  it.each<[string, OpenFinding, ReturnType<Tonight['absentVerdict']>, number, number]>([
    ['met now', open(), 'met', 1, 0],
    ['no longer declared', open(), 'gone', 1, 0],
    ['of a node that may be absent and is', open(), 'unsaid', 0, 1],
    ['never told', open({ told: false }), 'met', 0, 0],
    ['waived, and met now', open({ verdict: 'waived' }), 'met', 0, 0],
  ])('%s: cleared, or kept', (_, was, verdict, cleared, kept) => {
    const settled = settleFindings([], [was], tonight(verdict));
    expect([settled.cleared.length, settled.open.length]).toEqual([cleared, kept]);
  });
});
