import type { FactValue } from '../facts/entry.ts';
import { wasRead } from '../facts/was-read.ts';
import { type Severity, severities } from '../judge/types.ts';
import type { SitePath } from '../site/types.ts';
import { judgedPorts, portFact } from './judged-ports.ts';
import { clean } from './layout.ts';
import { type MetricFamily, type MetricSample, openmetricsText } from './openmetrics-text.ts';
import { askedNodes, lastCompleteAt } from './reading-counts.ts';
import { countOnWord } from './tally.ts';
import type { AuditResult } from './types.ts';

/**
 * The audit as OpenMetrics 1.0 text, under names of our own. What is not known has no sample, so
 * that no number stands for it; every sample names its site.
 */
export function openmetricsReport(result: AuditResult): Iterable<string> {
  return openmetricsText(familiesOf(result));
}

/** One after the other: those of ports are as large as the site. */
function* familiesOf(result: AuditResult): Iterable<MetricFamily> {
  const site = clean(result.site.intent.site);
  function* namedSamples(samples: MetricFamily['samples']) {
    for (const { labels, value } of samples)
      yield { labels: { site, ...cleanLabels(labels) }, value };
  }
  const named = (family: MetricFamily) => ({ ...family, samples: namedSamples(family.samples) });
  for (const family of auditFamilies(result)) yield named(family);
  for (const family of nodeFamilies(result)) yield named(family);
  for (const family of pathFamilies(result.site.paths)) yield named(family);
  for (const family of portFamilies(result)) yield named(family);
  yield named(findingFamily(result));
}

function cleanLabels(labels: MetricSample['labels']): MetricSample['labels'] {
  return Object.fromEntries(Object.entries(labels).map(([name, value]) => [name, clean(value)]));
}

function one(value: number | undefined): readonly MetricSample[] {
  return value === undefined ? [] : [{ labels: {}, value }];
}

function secondsOf(iso: string | undefined): number | undefined {
  return iso === undefined ? undefined : Date.parse(iso) / 1000;
}

function gauge(name: string, help: string, samples: MetricFamily['samples']): MetricFamily {
  return { name: `hopgauge_${name}`, type: 'gauge', help, samples };
}

function measured(
  name: string,
  unit: string,
  help: string,
  samples: MetricFamily['samples'],
): MetricFamily {
  return { ...gauge(`${name}_${unit}`, help, samples), unit };
}

function auditFamilies(result: AuditResult): readonly MetricFamily[] {
  const { judgement, site, startedAt, endedAt } = result;
  const { met, broken, undetermined, waived, notApplicable, excused = 0 } = judgement.tally;
  const tally = { met, broken, undetermined, waived, not_applicable: notApplicable, excused };
  return [
    measured(
      'audit_start_time',
      'seconds',
      'When this audit began, in seconds since 1970',
      one(secondsOf(startedAt)),
    ),
    measured(
      'audit_end_time',
      'seconds',
      'When this audit ended, in seconds since 1970',
      one(secondsOf(endedAt)),
    ),
    measured(
      'survey_end_time',
      'seconds',
      'When the nodes had been read that were judged, in seconds since 1970',
      one(secondsOf(result.survey?.endedAt)),
    ),
    measured(
      'complete_audit_end_time',
      'seconds',
      'When the last audit ended of which every node answered that may not be away',
      one(secondsOf(lastCompleteAt(result))),
    ),
    gauge(
      'verdicts',
      'Rules on subjects by what they came to',
      Object.entries(tally).map(([verdict, value]) => ({ labels: { verdict }, value })),
    ),
    gauge('findings', 'Verdicts that are not met, by severity', findingCounts(result)),
    gauge('rule_faults', 'Rules that failed on a subject', one(judgement.faults.length)),
    gauge('hops_on_word', 'Hops that are known from the intent alone', one(countOnWord(site))),
  ];
}

const found = ['broken', 'undetermined', 'waived'] as const;

function findingCounts({ judgement: { findings } }: AuditResult): readonly MetricSample[] {
  const counts = new Map<string, number>();
  for (const { severity, verdict } of findings) {
    const key = `${severity} ${verdict}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const sample = (severity: Severity, verdict: string): MetricSample => ({
    labels: { severity, verdict },
    value: counts.get(`${severity} ${verdict}`) ?? 0,
  });
  return severities.flatMap((severity) => found.map((verdict) => sample(severity, verdict)));
}

function nodeFamilies(result: AuditResult): readonly MetricFamily[] {
  const asked = askedNodes(result);
  const read = asked.filter(({ survey }) => wasRead(survey)).length;
  return [
    gauge('nodes_asked', 'Nodes that were to be read', one(asked.length)),
    gauge('nodes_read', 'Nodes that gave an answer', one(read)),
    gauge(
      'node_read',
      'Whether the node gave an answer',
      asked.map((node) => ({
        labels: { node: node.declared.name },
        value: Number(wasRead(node.survey)),
      })),
    ),
  ];
}

function pathFamilies(paths: readonly SitePath[]): readonly MetricFamily[] {
  const of = (fact: string) =>
    paths.flatMap(({ id, subject }) => sampleOf({ path: id }, subject.facts[fact]));
  return [
    measured(
      'path_declared_mtu',
      'bytes',
      'IP packet that the path is to carry',
      of('declaredMtuBytes'),
    ),
    measured(
      'path_mtu_at_least',
      'bytes',
      'IP packet that the path carries for certain',
      of('mtuAtLeastBytes'),
    ),
    measured(
      'path_mtu_at_most',
      'bytes',
      'IP packet beyond which nothing passes the path',
      of('mtuAtMostBytes'),
    ),
    gauge(
      'path_carries_declared_mtu',
      'Whether the path carries its declared packet; no sample where that is not known',
      of('carriesDeclaredMtu'),
    ),
  ];
}

function* portFamilies({ site }: AuditResult): Iterable<MetricFamily> {
  const ports = judgedPorts(site);
  function* of(fact: string, scale = 1) {
    for (const port of ports)
      yield* sampleOf({ node: port.node, port: port.id }, portFact(port, fact), scale);
  }
  const errors = (name: string, fact: string, help: string): MetricFamily => ({
    name: `hopgauge_${name}_frames`,
    type: 'counter',
    unit: 'frames',
    help,
    samples: of(fact),
  });
  yield measured(
    'port_declared_speed',
    'bits_per_second',
    'Speed that the port is to run at',
    of('declaredSpeedMbps', 1e6),
  );
  yield measured(
    'port_speed',
    'bits_per_second',
    'Speed that the port runs at',
    of('speedMbps', 1e6),
  );
  yield measured('port_mtu', 'bytes', 'What the node calls the MTU of the port', of('mtuBytes'));
  yield gauge('port_oper_up', 'Whether the link is up', of('operUp'));
  yield errors(
    'port_receive_error',
    'rxErrors',
    'Frames received in error, as the node counts them',
  );
  yield errors(
    'port_transmit_error',
    'txErrors',
    'Frames that could not be sent, as the node counts them',
  );
  yield errors('port_receive_fcs_error', 'rxCrcErrors', 'Frames with a wrong check sequence');
}

function sampleOf(
  labels: MetricSample['labels'],
  value: FactValue | undefined,
  scale = 1,
): readonly MetricSample[] {
  if (typeof value === 'boolean') return [{ labels, value: Number(value) }];
  return typeof value === 'number' ? [{ labels, value: value * scale }] : [];
}

function findingFamily({ judgement }: AuditResult): MetricFamily {
  return gauge(
    'finding',
    'A verdict that is not met; the value is always 1',
    judgement.findings.map(({ id, policy, rule, severity, verdict, subject }) => ({
      labels: { id, policy, rule, severity, verdict, kind: subject.kind, subject: subject.id },
      value: 1,
    })),
  );
}
