import { parseJson } from '../../../src/facts/json.ts';
import { type Severity, severities } from '../../../src/judge/types.ts';
import { type JsonReport, reportSchema } from '../../../src/report/report-schema.ts';
import { type HopgaugeOptions, hopgauge, writeRunFile } from './cli.ts';
import { mustInNs } from './namespaces.ts';
import type { Topology } from './topology.ts';

/** An audit by the real command line, and its report once it was checked against its schema. */
export interface Audited {
  readonly status: number | null;
  readonly report: JsonReport;
  readonly stderr: string;
}

let intents = 0;

/** Writes an intent and audits by it. Rejects when no report comes out. */
export async function audit(
  topology: Topology,
  intent: string,
  { args = [], ...options }: HopgaugeOptions & { readonly args?: readonly string[] } = {},
): Promise<Audited> {
  intents += 1;
  const file = writeRunFile(topology, `intent-${intents}.yaml`, intent);
  const words = ['audit', file, '--format', 'json', ...args];
  const ran = await hopgauge(topology, words, options);
  try {
    const report = reportSchema.parse(parseJson(ran.stdout));
    return { status: ran.code, report, stderr: ran.stderr };
  } catch (error) {
    const said = `${ran.stderr}\n${ran.stdout.slice(0, 2000)}`;
    throw new Error(`lab: no report, status ${ran.code}: ${said}`, { cause: error });
  }
}

/** What is broken at or above `least`, as `rule subject`, sorted. */
export function brokenIn(report: JsonReport, least: Severity = 'warning'): readonly string[] {
  return counted(report, least)
    .filter(({ verdict }) => verdict === 'broken')
    .map(({ rule, subject }) => `${rule} ${subject.id}`)
    .sort();
}

/**
 * The causes behind the findings of at least a warning, each with the worst verdict behind it, as
 * `cause: verdict`. Findings with one cause are one to the reader.
 */
export function causesIn(report: JsonReport): readonly string[] {
  const verdicts = new Map<string, string>();
  for (const { cause, verdict } of counted(report, 'warning')) {
    if (verdicts.get(cause) !== 'broken') verdicts.set(cause, verdict);
  }
  return [...verdicts].map(([cause, verdict]) => `${cause}: ${verdict}`).sort();
}

/** What could not be judged at or above a warning, as `rule subject`, sorted. */
export function undeterminedIn(report: JsonReport): readonly string[] {
  return counted(report, 'warning')
    .filter(({ verdict }) => verdict === 'undetermined')
    .map(({ rule, subject }) => `${rule} ${subject.id}`)
    .sort();
}

function counted(report: JsonReport, least: Severity): JsonReport['findings'] {
  const limit = severities.indexOf(least);
  return report.findings.filter(({ severity }) => severities.indexOf(severity) <= limit);
}

/** What the auditor's machine has sent since it was made. */
export async function sentByAuditor(topology: Topology): Promise<Readonly<Record<string, number>>> {
  const text = await mustInNs(topology.auditor, ['cat', '/proc/net/snmp', '/proc/net/snmp6']);
  const counters = new Map<string, number>();
  const lines = text.trim().split('\n');
  for (const [i, line] of lines.entries()) {
    const [group = '', ...names] = line.split(/\s+/);
    const values = lines[i + 1]?.split(/\s+/).slice(1) ?? [];
    if (group.endsWith(':')) {
      for (const [j, name] of names.entries()) counters.set(group + name, Number(values[j]));
    } else {
      counters.set(group, Number(names[0]));
    }
  }
  const wanted = ['Ip:OutRequests', 'Tcp:ActiveOpens', 'Udp:OutDatagrams', 'Udp6OutDatagrams'];
  return Object.fromEntries(wanted.map((name) => [name, counters.get(name) ?? Number.NaN]));
}
