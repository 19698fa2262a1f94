import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { makeIntent, makeSurvey, subjectIn } from './builders.ts';

const intent = makeIntent({
  nodes: { 'plot-1': {}, vault: {} },
  links: { 'plot-1:en7 - vault:eth4': {} },
});
const day = 86_400;

interface Night {
  readonly facts: PortReadFacts;
  readonly uptimeSeconds?: number;
  readonly port?: string;
}

/** The vault's port tonight, with what was read `agoSeconds` before. */
function tonight(now: Night, before: Night, agoSeconds = day) {
  const survey = surveyOf(now);
  const seenAt = new Date(Date.parse(survey.endedAt) - agoSeconds * 1000).toISOString();
  const [vault] = surveyOf(before).nodes;
  if (vault === undefined) throw new Error('no reading');
  const earlier = new Map([['vault', { seenAt, survey: vault }]]);
  return subjectIn(buildSite(intent, survey, { strict: false, earlier }), 'ports', 'vault:eth4')
    .facts;
}

function surveyOf({ facts, uptimeSeconds, port = 'eth4' }: Night) {
  const up = uptimeSeconds === undefined ? {} : { uptimeSeconds };
  return makeSurvey({ vault: { facts: up, ports: { [port]: facts } } });
}

const tenGig = { phyText: '10GBASE-T', speedMbps: 10_000 } as const;
const before = {
  ...tenGig,
  rxFrames: 800_000_000,
  rxOctets: 1_200_000_000_000,
  rxCrcErrors: 4000,
} as const;
const dayLater = { ...before, rxFrames: 1_600_000_000, rxOctets: 2_400_000_000_000 } as const;
const up = 10 * day;

describe('broken frames', () => {
  it.each<[string, Night, Night, readonly [unknown, unknown, unknown]]>([
    [
      'many, all before the earlier night: within',
      { facts: dayLater, uptimeSeconds: up + day },
      { facts: before, uptimeSeconds: up },
      ['within', 0, '2026-11-24T02:00:09.000Z'],
    ],
    [
      'many since the earlier night',
      { facts: { ...dayLater, rxCrcErrors: 8000 }, uptimeSeconds: up + day },
      { facts: before, uptimeSeconds: up },
      ['worse-than-limit', 4000, '2026-11-24T02:00:09.000Z'],
    ],
    [
      'of a counter that was reset by hand: since it began again',
      { facts: { ...dayLater, rxCrcErrors: 3 }, uptimeSeconds: up + day },
      { facts: before, uptimeSeconds: up },
      ['within', 3, 'its counters began'],
    ],
    [
      'of a node that restarted: since the counters began',
      { facts: dayLater, uptimeSeconds: 3600 },
      { facts: before, uptimeSeconds: up },
      ['worse-than-limit', 4000, 'its counters began'],
    ],
    [
      'of a node that does not say how long it is up: since the counters began',
      { facts: dayLater },
      { facts: before },
      ['worse-than-limit', 4000, 'its counters began'],
    ],
    [
      'of a port that was not there before: since the counters began',
      { facts: dayLater, uptimeSeconds: up + day },
      { facts: before, uptimeSeconds: up, port: 'eth9' },
      ['worse-than-limit', 4000, 'its counters began'],
    ],
    [
      'not counted on the earlier night: since the counters began',
      { facts: dayLater, uptimeSeconds: up + day },
      { facts: tenGig, uptimeSeconds: up },
      ['worse-than-limit', 4000, 'its counters began'],
    ],
    [
      'alignment errors, all before and counted tonight only: since the counters began',
      { facts: { ...dayLater, rxCrcErrors: 0, rxAlignmentErrors: 9000 }, uptimeSeconds: up + day },
      { facts: { ...before, rxCrcErrors: 0 }, uptimeSeconds: up },
      ['worse-than-limit', 9000, 'its counters began'],
    ],
  ])('%s', (_, now, earlier, [verdict, broken, since]) => {
    const facts = tonight(now, earlier);
    expect([facts['errorVerdict'], facts['brokenFrames'], facts['countedSince']]).toEqual([
      verdict,
      broken,
      since,
    ]);
  });

  it('are counted since they began where the clock went back', () => {
    const facts = tonight(
      { facts: dayLater, uptimeSeconds: up + day },
      { facts: before, uptimeSeconds: up },
      -day,
    );
    expect(facts['countedSince']).toBe('its counters began');
  });
});

describe('changes of link in a day', () => {
  it.each<[string, number, number, number, number | undefined]>([
    ['two in a day, although many before', 92, up + day, day, 2],
    ['none in a day', 90, up + day, day, 0],
    ['one in half a day', 91, up + day / 2, day / 2, 2],
    // Five hours are too short a measure: the average since the start counts.
    ['a night of five hours ago', 92, 8 * day, 5 * 3600, 11.5],
    ['fewer than before: the driver began again', 16, 8 * day, day, 2],
  ])('%s', (_, carrierChanges, uptimeSeconds, agoSeconds, perDay) => {
    const facts = tonight(
      { facts: { ...tenGig, carrierChanges }, uptimeSeconds },
      { facts: { ...tenGig, carrierChanges: 90 }, uptimeSeconds: up },
      agoSeconds,
    );
    expect(facts['linkChangesPerDay']).toBe(perDay);
  });

  it('are the average since the start where another counter was read before', () => {
    const facts = tonight(
      { facts: { ...tenGig, linkDownEvents: 40 }, uptimeSeconds: up },
      { facts: { ...tenGig, carrierChanges: 2 }, uptimeSeconds: up - day },
    );
    expect(facts['linkChangesPerDay']).toBe(8);
  });
});
