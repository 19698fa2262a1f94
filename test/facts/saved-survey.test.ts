import { describe, expect, it } from 'vitest';
import { loadSurvey, saveSurvey } from '../../src/facts/saved-survey.ts';
import type { Survey } from '../../src/facts/survey.ts';

const survey: Survey = {
  survey: 1,
  site: 'Saltmarsh survey office',
  startedAt: '2026-11-25T02:00:00.000Z',
  endedAt: '2026-11-25T02:00:03.000Z',
  nodes: [
    {
      node: 'vault',
      readings: [
        {
          by: 'ssh',
          at: 'vault.office.example',
          startedAt: '2026-11-25T02:00:00.000Z',
          tookMs: 410,
        },
      ],
      facts: { systemKind: 'linux', uptimeSeconds: 86400 },
      sources: { systemKind: 'uname -s' },
      gaps: { osVersion: { reason: 'unsupported', words: 'no such file' } },
      portSources: { mtuBytes: 'ip -j -d link' },
      portGaps: {},
      ports: [
        { name: 'eth4', facts: { mtuBytes: 9000, operUp: true, addresses: ['198.18.20.2/24'] } },
      ],
      routes: [{ to: '198.18.20.1', device: 'eth4', from: '198.18.20.2' }],
      sessions: [
        {
          local: '198.18.20.2',
          remote: '198.18.20.1',
          count: 2,
          segmentBytes: 8948,
          timestamps: true,
        },
      ],
      mounts: [],
      disagreements: [],
    },
  ],
};

describe('a saved survey', () => {
  it('comes back as it was', () => {
    expect(loadSurvey([...saveSurvey(survey)].join(''), 's.json')).toEqual({ ok: true, survey });
  });

  const broken = (change: (value: Record<string, unknown>) => void): string => {
    const copy = structuredClone(survey) as unknown as Record<string, unknown>;
    change(copy);
    return JSON.stringify(copy);
  };
  const portFacts = (value: Record<string, unknown>): Record<string, unknown> =>
    (value as unknown as Survey).nodes[0]?.ports[0]?.facts as Record<string, unknown>;

  it.each([
    ['no JSON', '{', /^s\.json: not JSON: /],
    [
      'another version',
      broken((v) => Object.assign(v, { survey: 2 })),
      /survey: Invalid input: expected 1/,
    ],
    [
      'null for a number',
      broken((v) => Object.assign(portFacts(v), { mtuBytes: null })),
      /ports\.0\.facts\.mtuBytes/,
    ],
    [
      'a number in quotes',
      broken((v) => Object.assign(portFacts(v), { mtuBytes: '9000' })),
      /mtuBytes: .*expected number/,
    ],
    [
      'a fact of no dictionary',
      broken((v) => Object.assign(portFacts(v), { mtuBtyes: 1 })),
      /mtuBtyes/,
    ],
    ['a list', '[]', /top level/],
  ])('refuses %s', (_name, text, message) => {
    const loaded = loadSurvey(text, 's.json');
    expect(loaded).toMatchObject({ ok: false, message: expect.stringMatching(message) });
  });
});
