import { readFileSync } from 'node:fs';
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

/** Findings of at least `least`, as `rule subject verdict`, sorted. */
export function findingsOf(report: JsonReport, least: Severity = 'warning'): readonly string[] {
  return report.findings
    .filter(({ severity }) => severities.indexOf(severity) <= severities.indexOf(least))
    .map(({ rule, subject, verdict }) => `${rule} ${subject.id} ${verdict}`)
    .sort();
}

/** How many causes stand behind the findings of at least a warning. */
export function causesOf(report: JsonReport): number {
  const counted = report.findings.filter(({ severity }) => severity !== 'notice');
  return new Set(counted.map(({ cause }) => cause)).size;
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

/** A file of the run's directory. */
export function readRunFile(topology: Topology, name: string): string {
  return readFileSync(`${topology.directory}/${name}`, 'utf8');
}
