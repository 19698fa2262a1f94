import { describe, expect, it } from 'vitest';
import { type CollectDeps, collectSurvey } from '../../src/collect/collect-survey.ts';
import { emptyReading } from '../../src/collect/merge-readings.ts';
import type { PlannedNode, SurveyPlan } from '../../src/collect/plan.ts';
import { everyTopic } from '../../src/facts/read-topics.ts';
import type { Trouble } from '../../src/facts/trouble.ts';
import type { Access } from '../../src/intent/types.ts';

const ssh: Access = { via: 'ssh', name: 'ssh' };
const snmp: Access = { via: 'snmp', name: 'switches', version: '2c', community: 'MARSH' };
const silent: Trouble = { kind: 'silent', seen: 'no answer', remedy: 'check the community' };

function plan(
  nodes: readonly PlannedNode[],
  whereabouts: Readonly<Record<string, string>> = {},
): SurveyPlan {
  return { site: 'Saltmarsh', nodes, whereabouts: new Map(Object.entries(whereabouts)) };
}

function deps(overrides: Partial<CollectDeps>): CollectDeps {
  let ms = Date.UTC(2026, 10, 25, 2);
  return {
    read: async () => ({ ok: true, reading: emptyReading }),
    resolve: async () => undefined,
    topics: everyTopic,
    now: () => {
      ms += 5;
      return new Date(ms);
    },
    signal: new AbortController().signal,
    ...overrides,
  };
}

const node = (name: string, access: readonly Access[], peerNames: readonly string[] = []) => ({
  name,
  at: `${name}.office.example`,
  access,
  peerNames,
});

describe('collectSurvey', () => {
  it('records a node that fails beside one that answers', async () => {
    const survey = await collectSurvey(
      plan([node('loft-sw', [snmp]), node('vault', [ssh])]),
      deps({
        read: async (n) =>
          n.name === 'vault'
            ? { ok: true, reading: { ...emptyReading, facts: { systemKind: 'linux' } } }
            : { ok: false, trouble: silent },
      }),
    );
    expect(
      survey.nodes.map((n) => [n.node, n.readings[0]?.trouble?.kind, n.facts.systemKind]),
    ).toEqual([
      ['loft-sw', 'silent', undefined],
      ['vault', undefined, 'linux'],
    ]);
    expect(survey.nodes[0]?.gaps['systemKind']).toEqual({
      reason: 'unreachable',
      words: 'no answer',
    });
  });

  it('counts a reader that throws as our fault, and goes on', async () => {
    const survey = await collectSurvey(
      plan([node('quay-sw', [snmp]), node('vault', [ssh])]),
      deps({
        read: async (n) => {
          if (n.name === 'quay-sw') throw new TypeError('x is not a\u001b[31m function');
          return { ok: true, reading: emptyReading };
        },
      }),
    );
    expect(survey.nodes[0]?.readings[0]?.trouble).toMatchObject({
      kind: 'fault',
      seen: 'hopgauge failed while reading this node: TypeError: x is not a [31m function',
    });
    expect(survey.nodes[1]?.readings[0]?.trouble).toBeUndefined();
  });

  it('reads the ports beside a node that may sleep first, and does not wake it', async () => {
    const asked: string[] = [];
    const port = { name: 'xg2', facts: { operUp: false } };
    const plot = {
      ...node('plot-1', [ssh]),
      farPorts: [{ node: 'quay-sw', names: ['xg2'] }],
    };
    const survey = await collectSurvey(
      plan([plot, node('quay-sw', [snmp])]),
      deps({
        read: async (n) => {
          asked.push(n.name);
          return { ok: true, reading: { ...emptyReading, ports: [port] } };
        },
      }),
    );
    expect(asked).toEqual(['quay-sw']);
    expect(survey.nodes.map((each) => each.node)).toEqual(['plot-1', 'quay-sw']);
    expect(survey.nodes[0]).toMatchObject({
      readings: [{ by: 'ssh', tookMs: 0, trouble: { kind: 'asleep' } }],
      gaps: { systemKind: { reason: 'unreachable' } },
    });
  });

  it('asks routes to peers by literal address, resolving each name once', async () => {
    const asked: string[] = [];
    const requests: Record<string, readonly string[]> = {};
    await collectSurvey(
      plan([node('a', [ssh], ['c', 'd', 'e']), node('b', [ssh], ['c', 'f'])], {
        c: 'c.office.example',
        d: '198.18.20.4',
        e: 'fe80::1%eth0',
        f: 'f.office.example',
      }),
      deps({
        resolve: async (name) => {
          asked.push(name);
          return name === 'c.office.example' ? '198.18.20.3' : 'not an address';
        },
        read: async (n, _access, request) => {
          requests[n.name] = request.peers;
          return { ok: true, reading: emptyReading };
        },
      }),
    );
    expect(requests).toEqual({ a: ['198.18.20.3', '198.18.20.4'], b: ['198.18.20.3'] });
    expect(asked.sort()).toEqual(['c.office.example', 'f.office.example', 'fe80::1%eth0']);
  });

  it('tries the accesses of one node one after another and merges them', async () => {
    let inFlight = 0;
    const survey = await collectSurvey(
      plan([node('vault', [ssh, snmp])]),
      deps({
        read: async (_n, access) => {
          inFlight += 1;
          expect(inFlight).toBe(1);
          await Promise.resolve();
          inFlight -= 1;
          return access.via === 'ssh'
            ? { ok: false, trouble: silent }
            : { ok: true, reading: { ...emptyReading, facts: { systemName: 'vault' } } };
        },
      }),
    );
    expect(survey.nodes[0]?.readings.map((r) => r.by)).toEqual(['ssh', 'snmp']);
    expect(survey.nodes[0]?.facts).toEqual({ systemName: 'vault' });
    expect(survey.nodes[0]?.gaps).toEqual({});
  });

  it('reads nothing more once it is interrupted', async () => {
    const stop = new AbortController();
    const survey = await collectSurvey(
      plan([node('a', [ssh, snmp])]),
      deps({
        signal: stop.signal,
        read: async () => {
          stop.abort();
          return { ok: true, reading: emptyReading };
        },
      }),
    );
    expect(survey.nodes[0]?.readings.map((r) => r.trouble?.kind)).toEqual([undefined, 'time-over']);
  });
});
