import type { FactValue } from '../facts/entry.ts';
import type { SitePort } from '../site/types.ts';
import { judgedPorts, portFact, portGaps } from './judged-ports.ts';
import { clean } from './layout.ts';
import type { AuditResult } from './types.ts';

/** Facts of a port that have a column, by their names in the dictionary. */
const columns = [
  'kind',
  'adminUp',
  'operUp',
  'declaredSpeedMbps',
  'speedMbps',
  'declaredDuplex',
  'duplex',
  'autoNegotiation',
  'declaredMtuBytes',
  'mtuBytes',
  'passesAtLeastBytes',
  'passesAtMostBytes',
  'carriesDeclaredMtu',
  'rxErrors',
  'txErrors',
  'rxCrcErrors',
  'neighbour',
  'aggregate',
  'linkId',
  'segments',
  'labels',
] as const;

/**
 * Every judged port with its main facts, as CSV (RFC 4180): a header, one record a line, CRLF. An
 * absent fact is an empty cell, and `gaps` says why. Text that a spreadsheet would take for a
 * formula begins with an apostrophe; numbers stay numbers.
 */
export function* csvReport({ site, judgement }: AuditResult): Iterable<string> {
  const findings = new Map<string, string[]>();
  for (const { subject, verdict, rule } of judgement.findings) {
    if (subject.kind !== 'port') continue;
    findings.set(subject.id, [...(findings.get(subject.id) ?? []), `${verdict} ${rule}`]);
  }
  const header = ['port', 'node', ...columns, 'findings', 'gaps'];
  yield lineOf(header);
  for (const port of judgedPorts(site)) yield lineOf(rowOf(port, findings.get(port.id) ?? []));
}

function rowOf(port: SitePort, findings: readonly string[]): readonly Cell[] {
  return [
    port.id,
    port.node,
    ...columns.map((name) => portFact(port, name)),
    findings.join('; '),
    portGaps(port, columns).join('; '),
  ];
}

function lineOf(cells: readonly Cell[]): string {
  return `${cells.map(csvCell).join(',')}\r\n`;
}

type Cell = FactValue | undefined;

/** What a spreadsheet may take for a formula, also after one of its own quotes. */
const formulaStart = /^[=+\-@\t\r]/;

/** One cell: numbers bare, text cleaned, kept from being a formula, and quoted where it must be. */
export function csvCell(value: Cell): string {
  if (value === undefined) return '';
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  const text = clean(typeof value === 'string' ? value : value.map(String).join('; '));
  const plain = formulaStart.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
}
