import type { OpenFinding } from '../drift/settle-findings.ts';
import type { Finding, Severity } from '../judge/types.ts';
import { newFindings } from './changes-text.ts';
import { titleWords } from './finding-lines.ts';
import { clean } from './layout.ts';
import type { AuditResult, Moved } from './types.ts';

/** What a log message says of a finding; also its type in a log. */
export type LogKind = 'finding' | 'new' | 'worsened' | 'cleared' | 'first' | 'more';

/** One message for a log, in no form yet. */
export interface LogEntry {
  readonly kind: LogKind;
  /** `informational` is less than any finding: what has cleared, what is only told. */
  readonly severity: Severity | 'informational';
  /** Names and values that a program can look for; absent of a finding that is not one. */
  readonly params: readonly (readonly [name: string, value: string])[];
  /** One line, cleaned. */
  readonly text: string;
}

/** Most messages of one audit; the last then says how many there are more. */
export const logEntriesMax = 1000;

/**
 * One entry for each finding that is new, worse or cleared since the audit before; without a
 * history for each that stands. Waived ones are accepted and not told. The first audit of a
 * history is told in one entry.
 */
export function logEntries(result: AuditResult): readonly LogEntry[] {
  const { moved, judgement, site } = result;
  const entries =
    moved === undefined
      ? judgement.findings.filter(isTold).map((finding) => entryOf('finding', finding, result))
      : movedEntries(moved, result);
  if (entries.length <= logEntriesMax) return entries;
  const shown = entries.slice(0, logEntriesMax - 1);
  const left = entries.length - shown.length;
  const more = clean(`${site.intent.site}: ${left} more findings; see hopgauge audit`);
  return [...shown, { kind: 'more', severity: 'warning', params: [], text: more }];
}

function movedEntries(moved: Moved, result: AuditResult): LogEntry[] {
  if (moved.first) return [firstEntry(moved, result)];
  const living = newFindings(moved).filter(({ finding }) => isTold(finding));
  return [
    ...living.map(({ finding, life }) =>
      entryOf(life === 'worsened' ? 'worsened' : 'new', finding, result),
    ),
    ...moved.settlement.cleared.map((each) => entryOf('cleared', each, result)),
  ];
}

function firstEntry({ settlement }: Moved, { site }: AuditResult): LogEntry {
  const text = `${site.intent.site}: first audit in this history; ${settlement.living.length} findings stand, see hopgauge audit`;
  return { kind: 'first', severity: 'informational', params: [], text: clean(text) };
}

function isTold({ verdict }: Finding): boolean {
  return verdict !== 'waived';
}

function entryOf(kind: LogKind, finding: Finding | OpenFinding, { site }: AuditResult): LogEntry {
  const { id, rule, subject, verdict } = finding;
  const advice = kind !== 'cleared' && 'advice' in finding ? `; ${finding.advice}` : '';
  const words = kind === 'finding' ? verdict : kind;
  return {
    kind,
    severity: kind === 'cleared' ? 'informational' : finding.severity,
    params: [
      ['id', id],
      ['rule', rule],
      ['kind', subject.kind],
      ['subject', subject.id],
      ['verdict', kind === 'cleared' ? 'met' : verdict],
      ['site', site.intent.site],
    ],
    text: clean(`${words}: ${titleWords(finding)}${advice}`),
  };
}
