import type {
  FindingEvent,
  KeptAudit,
  ProofEvent,
  Timeline,
  TimelineEvent,
} from '../drift/timeline.ts';
import { fitWords } from '../site/proof-words.ts';
import { factWords } from './fact-words.ts';
import { gist, leadOf, unreadNode } from './finding-gist.ts';
import { clean, wrap } from './layout.ts';
import { factChangeWords } from './moved-words.ts';
import { transferWords } from './proof-words.ts';
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
    ...groupsOf(events).flatMap((group) =>
      wrap(`  ${timeWords(group.lead.at)}  `, clean(groupWords(group, target)), width),
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

/** Events that are one to the reader: findings of one cause that came or went together. */
interface EventGroup {
  readonly lead: TimelineEvent;
  readonly count: number;
}

function groupsOf(events: readonly TimelineEvent[]): EventGroup[] {
  const findings = new Map<string, FindingEvent[]>();
  for (const event of events) {
    if (!isFinding(event)) continue;
    findings.set(groupKey(event), [...(findings.get(groupKey(event)) ?? []), event]);
  }
  return events.flatMap((event): EventGroup[] => {
    if (!isFinding(event)) return [{ lead: event, count: 1 }];
    const group = findings.get(groupKey(event)) ?? [];
    const lead = leadOf(group, ({ subjectKind }) => subjectKind === 'path');
    // Where the first of them stands.
    return group[0] === event && lead !== undefined ? [{ lead, count: group.length }] : [];
  });
}

function isFinding(event: TimelineEvent): event is FindingEvent {
  return event.kind === 'found' || event.kind === 'cleared';
}

function groupKey({ kind, at, cause }: FindingEvent): string {
  return `${kind}\n${at}\n${cause}`;
}

function groupWords({ lead, count }: EventGroup, target: string | undefined): string {
  const unread = isFinding(lead) ? unreadNode(lead) : undefined;
  const more = count === 1 || unread !== undefined ? '' : `; ${count - 1} more of the same cause`;
  return `${eventWords(lead, target)}${more}`;
}

/** What a test showed of a direction, and until when it did. */
function proofWords(event: ProofEvent): string {
  const { from, to } = event.kind === 'proven' ? event.fit : event.transfer;
  const until = event.lastAt === event.at ? '' : `; the same until ${timeWords(event.lastAt)}`;
  const shown = event.kind === 'proven' ? fitWords(event.fit) : transferWords(event.transfer);
  return `${from} to ${to}: ${shown}${until}`;
}

/** One event in one line; what it is about is said where it is not the target itself. */
export function eventWords(event: TimelineEvent, target: string | undefined): string {
  if (event.kind === 'proven' || event.kind === 'measured') return proofWords(event);
  const about = subjectOf(event);
  const prefix = about === target ? '' : `${about}: `;
  if (event.kind === 'changed') {
    const why = event.why === undefined ? '' : `; ${event.why}`;
    return `${prefix}${factChangeWords(event)}${why}`;
  }
  if (event.kind === 'grown')
    return `${prefix}${factWords(`port.${event.fact}`)} grew by ${event.added}`;
  return `${prefix}${findingWords(event)}`;
}

function findingWords(event: FindingEvent): string {
  const { kind, since, severity, rule, verdict, what } = event;
  const was = `there since ${timeWords(since)}`;
  if (unreadNode(event) !== undefined)
    return kind === 'found' ? 'not read' : `read again; not since ${timeWords(since)}`;
  if (verdict === 'undetermined' && kind === 'cleared')
    return `${rule} can be judged again; it could not since ${timeWords(since)}`;
  return kind === 'found' ? `${severity}: ${gist(what)}` : `cleared, ${was}: ${gist(what)}`;
}

function subjectOf(event: Exclude<TimelineEvent, ProofEvent>): string {
  if (isFinding(event)) return unreadNode(event) ?? event.subject;
  return event.port === undefined ? event.node : `${event.node}:${event.port}`;
}
