import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/judge/types.ts';
import { causeGroups } from '../../src/report/cause-groups.ts';
import { middleSmall } from './saltmarsh.ts';

const cause = 'link vault:eth4 - quay-sw:xg3';
const [base] = middleSmall.judgement.findings;

function finding(rule: string, more: Partial<Finding>): Finding {
  if (base === undefined) throw new Error('no finding to copy');
  return { ...base, cause, rule, evidence: [], ...more };
}
const port = (id: string) => ({ kind: 'port', id }) as const;
const noLink = finding('port-up', { subject: port('quay-sw:xg3') });
const switchedOff = finding('port-enabled', {
  subject: port('vault:eth4'),
  evidence: [{ fact: 'port.adminUp', value: false }],
});
const ofPath = finding('path-clearance', { subject: { kind: 'path', id: 'plotting' } });
const unjudged = finding('port-enabled', { verdict: 'undetermined', subject: port('vault:eth4') });

describe('which finding speaks for a cause', () => {
  const rows: readonly (readonly [string, readonly Finding[], string])[] = [
    ['the port that is switched off, before its far end', [noLink, switchedOff], 'port-enabled'],
    ['the port that is switched off, before the path', [ofPath, switchedOff], 'port-enabled'],
    ['the path, before its ports', [noLink, ofPath], 'path-clearance'],
    ['what is broken, before what is not known', [unjudged, noLink], 'port-up'],
    ['the first, where nothing tells them apart', [noLink, { ...noLink, rule: 'b' }], 'port-up'],
  ];
  for (const [name, findings, lead] of rows) {
    it(name, () => {
      const [group, ...more] = causeGroups(findings);
      expect(more).toEqual([]);
      expect(group?.lead.rule).toBe(lead);
      expect(group?.others.length).toBe(findings.length - 1);
    });
  }
});

describe('the order of causes', () => {
  const of = (cause: string, kind: Finding['subject']['kind'], more: Partial<Finding> = {}) =>
    finding('any', { cause, subject: { kind, id: cause }, ...more });

  it('puts nodes and then what breaks a path first, within one severity and verdict', () => {
    const findings = [
      of('port a', 'port'),
      of('mtu b', 'port'),
      of('link c', 'link'),
      of('mtu b', 'path'),
      of('node d', 'node'),
      of('mtu e', 'path', { verdict: 'undetermined' }),
      of('mtu f', 'path', { severity: 'warning' }),
    ];
    expect(causeGroups(findings).map(({ cause: each }) => each)).toEqual([
      'node d',
      'mtu b',
      'port a',
      'link c',
      'mtu e',
      'mtu f',
    ]);
  });

  it('lets a cord that moved speak before a link that is down', () => {
    const evidence = [{ fact: 'port.farEndElsewhere', value: true }];
    const groups = causeGroups([noLink, finding('far-end-in-place', { evidence })]);
    expect(groups.map(({ lead }) => lead.rule)).toEqual(['far-end-in-place']);
  });
});
