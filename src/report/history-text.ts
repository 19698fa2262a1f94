import type { KeptAudit, Timeline, TimelineEvent } from '../drift/timeline.ts';
import { factWords } from './fact-words.ts';
import { clean, wrap } from './layout.ts';
import { factChangeWords } from './moved-words.ts';
import { timeWords } from './summary-line.ts';

/** What a history says of a target, ready to be printed. */
export interface HistoryView {
  readonly site: string;
  /** As the operator wrote it; absent: the whole site. */
  readonly target?: string;
  readonly timeline: Timeline;
  /** The latest first; only for a whole site. */
  readonly audits: readonly KeptAudit[];
}

/** Audits that the text lists; JSON has all. */
const auditsShownMax = 14;

/** The timeline of a target, the latest last, for a terminal. */
export function historyText(view: HistoryView, width: number): string {
  const { site, target, timeline, audits } = view;
  const { firstSeen, events } = timeline;
  const lines = [
    ...wrap('', clean(`${target ?? site}${seenWords(view)}`), width),
    ...auditLines(audits, width),
    ...(timeline.truncated ? ['', 'earlier events are left out; give --since'] : []),
    ...(events.length === 0 && firstSeen !== undefined ? ['nothing moved'] : []),
    ...events.flatMap((event) =>
      wrap(`  ${timeWords(event.at)}  `, clean(eventWords(event, target)), width),
    ),
  ];
  return `${lines.join('\n')}\n`;
}

/** A path or a link is not seen but judged: it has findings, and no first night. */
function seenWords({ timeline: { firstSeen, events } }: HistoryView): string {
  if (firstSeen !== undefined) return `: first seen ${timeWords(firstSeen)}`;
  return events.length === 0 ? ': nothing was ever told of it' : '';
}

function auditLines(audits: readonly KeptAudit[], width: number): string[] {
  if (audits.length === 0) return [];
  const shown = audits.slice(0, auditsShownMax).reverse();
  const left = audits.length - shown.length;
  return [
    `${audits.length} ${audits.length === 1 ? 'audit' : 'audits'}${left > 0 ? `, the last ${shown.length}:` : ':'}`,
    ...shown.flatMap((audit) =>
      wrap(`  ${timeWords(audit.startedAt)}  `, auditWords(audit), width),
    ),
    '',
  ];
}

function auditWords(audit: KeptAudit): string {
  const { met, broken, undetermined, waived, nodesRead, nodesAsked, told, complete } = audit;
  const accepted = waived === 0 ? '' : `, ${waived} waived`;
  const nodes = nodesRead === nodesAsked ? `${nodesRead}` : `${nodesRead} of ${nodesAsked}`;
  return `${met} met, ${broken} broken, ${undetermined} undetermined${accepted}; ${nodes} nodes read${complete ? '' : ', not complete'}; ${told} told`;
}

/** One event in one line; what it is about is said where it is not the target itself. */
export function eventWords(event: TimelineEvent, target: string | undefined): string {
  const about = subjectOf(event);
  const prefix = about === target ? '' : `${about}: `;
  if (event.kind === 'changed') {
    const why = event.why === undefined ? '' : `; ${event.why}`;
    return `${prefix}${factChangeWords(event)}${why}`;
  }
  if (event.kind === 'grown')
    return `${prefix}${factWords(`port.${event.fact}`)} grew by ${event.added}`;
  const life =
    event.kind === 'cleared' ? `cleared, there since ${timeWords(event.since)}` : event.severity;
  return `${prefix}${life}: ${event.what}`;
}

function subjectOf(event: TimelineEvent): string {
  if ('subject' in event) return event.subject;
  return event.port === undefined ? event.node : `${event.node}:${event.port}`;
}
