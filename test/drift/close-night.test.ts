import { describe, expect, it } from 'vitest';
import { closeNight, type Evening, idleWaiverNights } from '../../src/drift/close-night.ts';
import type { Past, WaiverUse } from '../../src/drift/night.ts';
import type { Survey } from '../../src/facts/survey.ts';
import type { Intent, Waiver } from '../../src/intent/types.ts';
import type { Finding, Judgement, WatchedVerdict } from '../../src/judge/types.ts';
import { openOn } from '../history/store.ts';
import { makeIntent, type NodeSketch } from '../site/builders.ts';
import { firstNight, knownFrom, type NightOf, reading, secondNight, thirdNight } from './nights.ts';

const healthy: NightOf = { ports: { xg3: { kind: 'physical', mtuBytes: 9216 } } };
const nothing: Past = { known: new Map(), open: [], waivers: [] };
const place = { file: 'hopgauge.yaml', line: 40, column: 5 };
const waiver: Waiver = {
  rule: 'duplex-full',
  on: 'quay-sw:xg3',
  until: '2026-12-31',
  because: 'an old plotter',
  place,
};

function intentOf(node: NodeSketch = {}, waivers: readonly Waiver[] = []): Intent {
  return { ...makeIntent({ nodes: { 'quay-sw': node } }), waivers };
}

function surveyOf(...nodes: Survey['nodes']): Survey {
  const [startedAt, endedAt] = [secondNight, secondNight];
  return { survey: 1, site: 'Saltmarsh survey office', startedAt, endedAt, nodes };
}

function judged(findings: readonly Finding[] = [], over: Partial<Judgement> = {}): Judgement {
  return {
    findings,
    faults: [],
    tally: { met: 9, broken: findings.length, undetermined: 0, waived: 0, notApplicable: 2 },
    waiversExpired: [],
    waiversMet: [],
    watched: new Map(),
    ...over,
  };
}

const narrow: Finding = {
  id: 'a1b2c3d4e5',
  policy: 'jumbo',
  rule: 'path-clearance',
  severity: 'error',
  verdict: 'broken',
  subject: { kind: 'path', id: 'plotting' },
  cause: 'mtu quay-sw:xg2',
  what: 'carries at most 1500 of the declared 9000 bytes',
  evidence: [],
  source: 'RFC 1191',
};

function evening(over: Partial<Evening> = {}): Evening {
  return {
    intent: intentOf(),
    survey: surveyOf(reading(healthy)),
    judgement: judged(),
    past: nothing,
    startedAt: secondNight,
    endedAt: secondNight,
    ...over,
  };
}

describe('the first night', () => {
  it('has no changes, and knows every node and finding from now on', () => {
    const closed = closeNight(evening({ judgement: judged([narrow]) }));
    expect(closed.first).toBe(true);
    expect(closed).not.toHaveProperty('lastAt');
    expect([closed.changes, closed.growths, closed.settlement.cleared]).toEqual([[], [], []]);
    expect(closed.night).toEqual({
      site: 'Saltmarsh survey office',
      startedAt: secondNight,
      endedAt: secondNight,
      complete: true,
      tally: judged([narrow]).tally,
      nodesRead: 1,
      nodesAsked: 1,
      told: 1,
      known: [{ ...knownFrom(healthy), seenAt: secondNight }],
      changes: [],
      growths: [],
      silences: [],
      open: [openOn(secondNight)],
      waivers: [],
    });
  });

  it('knows nothing of a node that did not answer', () => {
    const closed = closeNight(evening({ survey: surveyOf(reading({ silent: true })) }));
    expect(closed.night.known).toEqual([]);
    expect(closed.asleep).toEqual([{ node: 'quay-sw' }]);
  });
});

describe('a later night', () => {
  const past: Past = {
    known: new Map([['quay-sw', knownFrom({ ports: { xg3: { mtuBytes: 9000, rxErrors: 4 } } })]]),
    open: [openOn(firstNight)],
    waivers: [],
    lastAt: firstNight,
  };

  it('tells what moved and what grew since the audit before', () => {
    const now = reading({ ports: { xg3: { mtuBytes: 1500, rxErrors: 11 } } });
    const closed = closeNight(evening({ past, survey: surveyOf(now) }));
    expect([closed.first, closed.lastAt]).toEqual([false, firstNight]);
    const where = { node: 'quay-sw', port: 'xg3' };
    expect(closed.changes).toEqual([
      { kind: 'fact', ...where, fact: 'mtuBytes', was: 9000, is: 1500, seenAt: firstNight },
    ]);
    expect(closed.growths).toEqual([{ ...where, fact: 'rxErrors', added: 7 }]);
    expect(closed.night.changes).toEqual(closed.changes);
    expect(closed.night.growths).toEqual(closed.growths);
  });

  it('says of a node that did not answer when it last did, and keeps it as it was', () => {
    const closed = closeNight(evening({ past, survey: surveyOf(reading({ silent: true })) }));
    expect(closed.asleep).toEqual([{ node: 'quay-sw', seenAt: firstNight }]);
    expect([closed.changes, closed.night.known]).toEqual([[], []]);
  });

  it.each<[string, WatchedVerdict | undefined, number, number]>([
    ['met tonight: cleared', 'met', 1, 0],
    ['of a rule that is gone: cleared', undefined, 1, 0],
    ['of a rule that does not apply tonight: kept', 'notApplicable', 0, 1],
    ['of a node that is away: kept', 'excused', 0, 1],
  ])('a finding %s', (_, seen, cleared, open) => {
    const watched = new Map(seen === undefined ? [] : [[narrow.id, seen]]);
    const closed = closeNight(evening({ past, judgement: judged([], { watched }) }));
    expect([closed.settlement.cleared.length, closed.night.open.length]).toEqual([cleared, open]);
    expect(closed.night.told).toBe(cleared);
  });
});

describe('a finding on a port that nothing declares', () => {
  const stray = openOn(firstNight, { subject: { kind: 'port', id: 'quay-sw:vpn0' } });
  const past: Past = { ...nothing, open: [stray], lastAt: firstNight };

  it.each([
    ['whose node was not read: kept', true, 0, 1],
    ['that is no longer there: cleared', false, 1, 0],
  ])('%s', (_, silent, cleared, open) => {
    const survey = surveyOf(reading({ ...healthy, silent }));
    const closed = closeNight(evening({ past, survey }));
    expect([closed.settlement.cleared.length, closed.night.open.length]).toEqual([cleared, open]);
  });
});

describe('a night is complete', () => {
  it.each<[string, NodeSketch, boolean, boolean]>([
    ['when every node answered', {}, false, true],
    ['not when one did not', {}, true, false],
    ['when the one that did not may sleep', { sleeps: true }, true, true],
    ['when the one that did not may be absent', { mayBeAbsent: true }, true, true],
  ])('%s', (_, node, silent, complete) => {
    const survey = surveyOf(reading({ ...healthy, silent }));
    const { night } = closeNight(evening({ intent: intentOf(node), survey }));
    expect([night.complete, night.nodesRead, night.nodesAsked]).toEqual([
      complete,
      silent ? 0 : 1,
      1,
    ]);
  });
});

describe('waivers', () => {
  const use = (metNights: number): WaiverUse => ({ rule: waiver.rule, on: waiver.on, metNights });
  const needed: Finding = { ...narrow, verdict: 'waived', beneath: 'broken', waiver };
  const met = judged([], { waiversMet: [place] });

  it.each<[string, number, Judgement, number, boolean]>([
    ['not needed for the first time', 0, met, 1, false],
    ['not needed for the thirteenth time', 12, met, 13, false],
    ['not needed for the fourteenth time: said', 13, met, idleWaiverNights, true],
    ['not needed for the fifteenth time: said once', 14, met, 15, false],
    ['needed again after thirteen: counts from nothing', 13, judged([needed]), 0, false],
    ['could not be judged: counts neither way', 13, judged(), 13, false],
    [
      'waived while it could not be judged: counts neither way',
      13,
      judged([{ ...needed, beneath: 'undetermined' }]),
      13,
      false,
    ],
  ])('%s', (_, before, judgement, after, said) => {
    const past = { ...nothing, lastAt: firstNight, waivers: before === 0 ? [] : [use(before)] };
    const intent = intentOf({}, [waiver]);
    const { night, idleWaivers } = closeNight(evening({ intent, past, judgement }));
    expect(night.waivers).toEqual([use(after)]);
    expect(idleWaivers).toEqual(said ? [waiver] : []);
  });

  it.each<[string, string, string | undefined, string, boolean]>([
    ['its last day is today', '2026-11-25', firstNight, secondNight, false],
    ['its last day was yesterday', '2026-11-24', firstNight, secondNight, true],
    ['it was said on the night before', '2026-11-24', secondNight, thirdNight, false],
    ['it ended between two audits of one day: none', '2026-11-24', secondNight, secondNight, false],
    ['it ended while no audit ran', '2026-11-25', firstNight, '2026-12-24T02:00:00.000Z', true],
    ['it had ended before the last audit', '2026-11-23', firstNight, secondNight, false],
    ['there was no audit before', '2026-11-24', undefined, secondNight, false],
    ['the clock went back', '2026-11-24', thirdNight, firstNight, false],
  ])('said as ended, or not: %s', (_, until, lastAt, startedAt, said) => {
    const ended = { ...waiver, until };
    const past = lastAt === undefined ? nothing : { ...nothing, lastAt };
    const intent = intentOf({}, [ended]);
    const { endedWaivers } = closeNight(evening({ intent, past, startedAt }));
    expect(endedWaivers).toEqual(said ? [ended] : []);
  });
});
