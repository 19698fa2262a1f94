import { describe, expect, it } from 'vitest';
import type { KeptAudit, TimelineEvent } from '../../src/drift/timeline.ts';
import { parseJson } from '../../src/facts/json.ts';
import { historyJson, historyLines } from '../../src/report/history-json.ts';
import { eventWords, type HistoryView, historyText } from '../../src/report/history-text.ts';
import { firstNight, secondNight } from '../drift/nights.ts';

const site = 'Saltmarsh survey office';
const port = { node: 'quay-sw', port: 'xg3' } as const;
const changed: TimelineEvent = {
  kind: 'changed',
  at: secondNight,
  ...port,
  fact: 'mtuBytes',
  was: 9216,
  is: 1500,
  seenAt: firstNight,
  why: 'the node restarted between',
};
const found: TimelineEvent = {
  kind: 'found',
  at: secondNight,
  id: 'a1',
  rule: 'path-clearance',
  subject: 'plotting',
  subjectKind: 'path',
  severity: 'error',
  verdict: 'broken',
  what: 'carries at most 1500. Transfers stall',
  cause: 'mtu quay-sw:xg2',
  since: firstNight,
};

function audit(day: number, over: Partial<KeptAudit> = {}): KeptAudit {
  const at = new Date(Date.UTC(2026, 10, day, 2)).toISOString();
  const counts = { met: 40, broken: 1, undetermined: 0, waived: 0 };
  return {
    startedAt: at,
    endedAt: at,
    complete: true,
    ...counts,
    nodesRead: 5,
    nodesAsked: 5,
    told: 0,
    ...over,
  };
}

function view(over: Partial<HistoryView> = {}): HistoryView {
  const timeline = { firstSeen: firstNight, events: [], truncated: false };
  return { site, timeline, audits: [], ...over };
}

describe('an event in words', () => {
  it.each<[string, TimelineEvent, string | undefined, string]>([
    [
      'of another subject, which is named',
      changed,
      undefined,
      'quay-sw:xg3: MTU 9216 bytes, now 1500 bytes; the node restarted between',
    ],
    [
      'of the target itself',
      changed,
      'quay-sw:xg3',
      'MTU 9216 bytes, now 1500 bytes; the node restarted between',
    ],
    [
      'a port that came',
      { ...changed, fact: 'present', was: false, is: true, why: undefined } as never,
      'quay-sw:xg3',
      'not there, now there',
    ],
    [
      'a port that went',
      { ...changed, fact: 'present', was: true, is: false, why: undefined } as never,
      'quay-sw:xg3',
      'there, now not there',
    ],
    [
      'a port of another name',
      { ...changed, fact: 'name', was: 'xg3', is: 'te3', why: undefined } as never,
      'quay-sw:xg3',
      'was called xg3, now te3',
    ],
    [
      'errors that grew',
      { kind: 'grown', at: secondNight, ...port, fact: 'rxCrcErrors', added: 7 },
      'quay-sw',
      'quay-sw:xg3: rx crc errors grew by 7',
    ],
    ['a finding', found, undefined, 'plotting: error: carries at most 1500'],
    [
      'a finding that cleared',
      { ...found, kind: 'cleared' },
      'plotting',
      'cleared, there since 2026-11-24 02:00 UTC: carries at most 1500',
    ],
  ])('%s', (_, event, target, words) => {
    expect(eventWords(event, target)).toBe(words);
  });
});

describe('a history as text', () => {
  const unread = { ...found, verdict: 'undetermined', cause: 'node loft-sw' } as const;

  it.each<[string, readonly TimelineEvent[], readonly string[]]>([
    [
      'findings of one cause, the path first',
      [{ ...found, subject: 'storage', subjectKind: 'segment' }, changed, found],
      [
        'plotting: error: carries at most 1500; 1 more of the same cause',
        'quay-sw:xg3: MTU 9216 bytes, now 1500 bytes; the node restarted between',
      ],
    ],
    [
      'findings of two causes',
      [found, { ...found, subject: 'storing', cause: 'mtu vault:eth4' }],
      ['plotting: error: carries at most 1500', 'storing: error: carries at most 1500'],
    ],
    [
      'a node that is not read',
      [unread, { ...unread, subject: 'loft-sw:p1' }],
      ['loft-sw: not read'],
    ],
    [
      'a node that is read again',
      [{ ...unread, kind: 'cleared' }],
      ['loft-sw: read again; not since 2026-11-24 02:00 UTC'],
    ],
    [
      'a fact that is known again',
      [{ ...unread, kind: 'cleared', cause: 'mtu quay-sw:xg2' }],
      ['plotting: path-clearance can be judged again; it could not since 2026-11-24 02:00 UTC'],
    ],
  ])('is short: %s', (_, events, lines) => {
    const timeline = { firstSeen: firstNight, events, truncated: false };
    expect(historyText(view({ timeline }), 200).split('\n').slice(1, -1)).toEqual(
      lines.map((line) => `  2026-11-25 02:00 UTC  ${line}`),
    );
  });

  it('lists fourteen audits, the latest last, and says how many there are', () => {
    const audits = Array.from({ length: 20 }, (_, at) => audit(28 - at));
    const lines = historyText(view({ audits }), 100).split('\n');
    expect(lines.slice(0, 3)).toEqual([
      'Saltmarsh survey office: first seen 2026-11-24 02:00 UTC',
      '20 audits, the last 14:',
      '  2026-11-15 02:00 UTC  40 met, 1 broken, 0 undetermined; 5 nodes read; 0 told',
    ]);
    expect(lines.filter((line) => line.includes('nodes read')).length).toBe(14);
    expect(lines.at(-4)).toMatch(/^ {2}2026-11-28/);
  });

  it('says what an audit lacked and what was waived', () => {
    const odd = audit(25, { complete: false, nodesRead: 3, waived: 2, told: 4 });
    expect(
      historyText(view({ audits: [odd] }), 120),
    ).toBe(`Saltmarsh survey office: first seen 2026-11-24 02:00 UTC
1 audit:
  2026-11-25 02:00 UTC  40 met, 1 broken, 0 undetermined, 2 waived; 3 of 5 nodes read, not complete; 4 told

nothing moved
`);
  });

  it('says that earlier events are left out', () => {
    const timeline = { firstSeen: firstNight, events: [changed], truncated: true };
    expect(
      historyText(view({ target: 'quay-sw:xg3', timeline }), 100),
    ).toBe(`quay-sw:xg3: first seen 2026-11-24 02:00 UTC

earlier events are left out; give --since
  2026-11-25 02:00 UTC  MTU 9216 bytes, now 1500 bytes; the node restarted between
`);
  });

  it('shows nothing that a terminal would obey', () => {
    const events = [{ ...found, what: 'says \u001b[31m\u202e' }];
    const text = historyText(view({ timeline: { events, truncated: false } }), 100);
    expect(text).not.toMatch(/[\u001b\u202e]/);
  });
});

describe('a history for programs', () => {
  const full = view({
    target: 'quay-sw',
    timeline: { firstSeen: firstNight, events: [changed, found], truncated: false },
    audits: [audit(25), audit(24)],
  });

  it('is one document, of equal bytes whatever the order of its keys', () => {
    const { site: name, ...rest } = full;
    expect(historyJson({ ...rest, site: name })).toBe(historyJson(full));
    expect(parseJson(historyJson(full))).toEqual({
      history: 1,
      site,
      target: 'quay-sw',
      ...full.timeline,
      audits: full.audits,
    });
  });

  it('is a line for each audit, then for each event, the latest last', () => {
    const lines = historyLines(full).trimEnd().split('\n').map(parseJson);
    expect(lines).toEqual([
      { kind: 'audit', at: audit(24).startedAt, site, ...audit(24) },
      { kind: 'audit', at: audit(25).startedAt, site, ...audit(25) },
      { site, ...changed },
      { site, ...found },
    ]);
    expect(historyLines(view())).toBe('');
  });
});
