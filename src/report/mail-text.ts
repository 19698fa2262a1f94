import { causeGroups } from './cause-groups.ts';
import { changesText, newFindings } from './changes-text.ts';
import { clean } from './layout.ts';
import type { AuditResult, Moved } from './types.ts';

/** A mail before it has sender and receiver. */
export interface MailText {
  readonly subject: string;
  readonly text: string;
}

/** Columns of a telephone held upright. */
const mailColumns = 40;
/** Longest name of a site in a subject, in characters. */
const siteLengthMax = 60;

/**
 * The mail of an audit with a history; undefined where there is nothing to tell. The subject
 * counts causes, as the text lists them.
 */
export function mailText(result: AuditResult): MailText | undefined {
  const { moved } = result;
  if (moved === undefined) return undefined;
  const text = changesText(result, moved, { width: mailColumns, colour: false, verbose: false });
  if (text === '') return undefined;
  const site = clean(result.site.intent.site).slice(0, siteLengthMax);
  return { subject: `hopgauge: ${site}: ${countWords(result, moved)}`, text };
}

function countWords({ judgement }: AuditResult, moved: Moved): string {
  if (moved.first) return 'first audit';
  const counts = [
    [causesOf(moved, 'new'), 'new'],
    [causesOf(moved, 'worsened'), 'worse'],
    [new Set(moved.settlement.cleared.map(({ cause }) => cause)).size, 'cleared'],
  ] as const;
  const words = counts.flatMap(([count, life]) => (count === 0 ? [] : [`${count} ${life}`]));
  if (words.length > 0) return words.join(', ');
  if (judgement.faults.length > 0) return 'a rule failed';
  return moved.changes.length > 0 ? 'something moved' : 'waivers to look at';
}

function causesOf(moved: Moved, life: 'new' | 'worsened'): number {
  const findings = newFindings(moved)
    .filter((each) => each.life === life && each.finding.verdict !== 'waived')
    .map(({ finding }) => finding);
  return causeGroups(findings).length;
}
