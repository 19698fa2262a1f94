import { describe, expect, it } from 'vitest';
import type { NodeSurvey } from '../../src/facts/survey.ts';
import type { DeclaredNode } from '../../src/intent/types.ts';
import type { Finding } from '../../src/judge/types.ts';
import { jsonReport } from '../../src/report/json-report.ts';
import { hideFor } from '../../src/report/pseudonym.ts';
import { redactResult } from '../../src/report/redact.ts';
import { textReport } from '../../src/report/text-report.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { deadSwitch, middleSmall } from './saltmarsh.ts';
import { whole } from './whole.ts';

/** Everything that tells of the site, put into a result in the places where it may stand. */
const telling = [
  'Saltmarsh survey office',
  'plot-1',
  'quay-sw',
  'vault',
  'plotting',
  'storage',
  'vault-up',
  'office.example',
  'QUAY-HALL',
  'auditor',
  '198.18.20.7',
  '2001:db8:20::7',
  '02:00:5e:00:00:05',
  '0200.5e00.0005',
  'enx02005e000005',
  'SHA256:9Z1pQxq2vT7rJmYc0aFh8kLwEoUiNbSd3G5tRyXeZ4A',
  '80001f8880e9630000d61ff449',
  'FOC2231X0A7',
  'W-07',
  'B/12',
  'hopgauge.yaml',
  '/home/anna/.ssh/id_auditor',
  'to the strong room',
  'desk',
  '1f0c2d3e4b',
];

const words =
  'auditor@vault.office.example (198.18.20.7, 2001:db8:20::7, 02:00:5e:00:00:05, 0200.5e00.0005) ' +
  'enx02005e000005 key SHA256:9Z1pQxq2vT7rJmYc0aFh8kLwEoUiNbSd3G5tRyXeZ4A of QUAY-HALL ' +
  'engine 80001f8880e9630000d61ff449 serial FOC2231X0A7 with /home/anna/.ssh/id_auditor refused';

function tellingSurvey(survey: NodeSurvey): NodeSurvey {
  const readings = survey.readings.map((reading) =>
    reading.trouble === undefined
      ? reading
      : { ...reading, trouble: { ...reading.trouble, seen: words } },
  );
  return { ...survey, facts: { systemName: 'QUAY-HALL' }, readings };
}

function tellingResult(): AuditResult {
  const [base] = deadSwitch.judgement.findings;
  if (base === undefined) throw new Error('no finding to copy');
  const broken: Finding = {
    ...base,
    id: '1f0c2d3e4b',
    verdict: 'broken',
    cause: 'vault-up',
    what: `vault:eth4 and Vault: ${words}`,
    advice: 'touch jack W-07 and panel B/12 of vault-up',
    evidence: [
      { fact: 'port.alias', value: 'to the strong room', source: 'IF-MIB ifAlias' },
      { fact: 'port.addresses', value: ['198.18.20.7/24', '2001:db8:20::7/64'] },
      { fact: 'port.labels', value: 'jack 12' },
      { fact: 'port.mtuBytes', value: 1500, unit: 'bytes', source: 'IF-MIB ifMtu' },
    ],
  };
  const declared = deadSwitch.site.intent.nodes.map(
    (node): DeclaredNode => ({
      ...node,
      ports: node.name === 'plot-1' ? [{ alias: 'desk', name: 'en7', place: node.place }] : [],
    }),
  );
  const run = middleSmall.site.paths[0]?.hops[0]?.runToNext ?? [];
  const place = { file: 'hopgauge.yaml', line: 24, column: 5 };
  const link = {
    id: 'plot-1:desk - quay-sw:xg2',
    place,
    ends: [
      { node: 'plot-1', port: 'desk', place },
      { node: 'quay-sw', port: 'xg2', place },
    ] as const,
    tagged: [],
    duplex: 'full' as const,
    lag: 'vault-up',
    run,
  };
  return {
    ...deadSwitch,
    site: {
      ...deadSwitch.site,
      intent: {
        ...deadSwitch.site.intent,
        nodes: declared,
        links: [link],
        segments: [{ name: 'storage', place, mtuBytes: 9000, ipv6: false }],
      },
      nodes: deadSwitch.site.nodes.map((node) =>
        node.survey === undefined ? node : { ...node, survey: tellingSurvey(node.survey) },
      ),
    },
    judgement: { ...deadSwitch.judgement, findings: [broken, ...deadSwitch.judgement.findings] },
  };
}

describe('a redacted report', () => {
  const result = tellingResult();
  const forms = [
    ['text', (r: AuditResult) => textReport(r, { width: 4000, colour: false, verbose: true })],
    ['JSON', (result: AuditResult) => whole(jsonReport(result))],
  ] as const;

  for (const [form, write] of forms) {
    it(`tells nothing of the site as ${form}`, () => {
      const open = write(result).replace(/\s+/g, ' ').toLowerCase();
      const hidden = write(redactResult(result)).replace(/\s+/g, ' ').toLowerCase();
      const left = telling.filter((each) => hidden.includes(each.toLowerCase()));
      expect(left).toEqual([]);
      // The sample must say each of them openly somewhere, or this test would prove nothing.
      const unsaid = telling.filter((each) => !open.includes(each.toLowerCase()));
      expect(unsaid).toEqual(form === 'text' ? ['Saltmarsh survey office'] : ['storage']);
    });

    it(`keeps names of ports, rules, sources and numbers as ${form}`, () => {
      const hidden = write(redactResult(result));
      for (const kept of [':eth4', ':xg2', 'node-read', '9000', 'IF-MIB ifAlias']) {
        expect(hidden).toContain(kept);
      }
    });
  }

  it('gives the same pseudonyms every time, and joins what belonged together', () => {
    const once = redactResult(result);
    expect(redactResult(result)).toEqual(once);
    const node = once.site.nodes.find(({ survey }) => survey?.readings[0]?.trouble)?.declared.name;
    expect(node).toMatch(/^node-[0-9a-f]{8}$/);
    expect(once.judgement.findings[1]?.cause).toBe(`node ${node}`);
    expect(once.site.paths[0]?.hops[1]?.port.id).toBe(`${node}:xg2`);
  });

  it('does not change what is judged', () => {
    const once = redactResult(result);
    expect(once.judgement.tally).toEqual(result.judgement.tally);
    expect(once.judgement.findings.map(({ verdict, severity }) => [verdict, severity])).toEqual(
      result.judgement.findings.map(({ verdict, severity }) => [verdict, severity]),
    );
  });
});

describe('hiding', () => {
  const hide = hideFor(
    'a site',
    new Map([
      ['gate', 'node'],
      ['Port 4 room', 'text'],
    ]),
  );
  const rows = [
    ['a name inside another word stays', 'aggregate and gateway', /^aggregate and gateway$/],
    ['a name beside signs goes', 'gate:em0, my-gate.', /^node-(\w{8}):em0, my-node-\1\.$/],
    ['whatever its case', 'GATE', /^node-\w{8}$/],
    ['a name of several words', 'in Port 4 room 2', /^in text-\w{8} 2$/],
    ['times and versions stay', '02:00:00 and 3.29.2', /^02:00:00 and 3\.29\.2$/],
    ['an address keeps its length', '192.0.2.7/24', /^address-\w{4}\/24$/],
    ['media names stay', '10GBASE-T 1000BASE-SX', /^10GBASE-T 1000BASE-SX$/],
  ] as const;
  for (const [name, text, expected] of rows) it(name, () => expect(hide(text)).toMatch(expected));

  it('differs between sites', () => {
    expect(hideFor('another', new Map([['gate', 'node']]))('gate')).not.toBe(hide('gate'));
  });
});
