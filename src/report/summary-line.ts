import { wasRead } from '../facts/was-read.ts';
import { askedNodes } from './reading-counts.ts';
import { auditCounts } from './tally.ts';
import type { AuditResult } from './types.ts';

/**
 * The counts of an audit in one line, with its time:
 * `9 judged: 7 met (2 hops on your word), 1 broken, 1 undetermined; 4 of 5 nodes read 2026-11-25
 * 02:00 UTC`. The age is said once it matters.
 */
export function summaryLine(result: AuditResult): string {
  const { judged, met, broken, undetermined, waived, noted, onWord } = auditCounts(result);
  const word = onWord === 0 ? '' : ` (${onWord} ${onWord === 1 ? 'hop' : 'hops'} on your word)`;
  const accepted = waived === 0 ? '' : `, ${waived} waived`;
  const notes = noted === 0 ? '' : `, ${noted} worth knowing`;
  const counts = `${judged} judged: ${met} met${word}, ${broken} broken, ${undetermined} undetermined${accepted}${notes}`;
  return `${judged === 0 ? 'nothing was judged' : counts}; ${readWords(result)}`;
}

function readWords(result: AuditResult): string {
  const { survey, endedAt } = result;
  if (survey === undefined) return 'nothing was read';
  const asked = askedNodes(result);
  const read = asked.filter((node) => wasRead(node.survey));
  const age = Date.parse(endedAt) - Date.parse(survey.endedAt);
  const all = read.length === asked.length;
  const noun = asked.length === 1 ? 'node' : 'nodes';
  const nodes = `${read.length}${all ? '' : ` of ${asked.length}`} ${noun} read`;
  const old = Number.isFinite(age) && age >= ageSaidFromMs ? ` (${durationWords(age)} ago)` : '';
  return `${nodes} ${timeWords(survey.endedAt)}${old}`;
}

/** A survey older than this has its age said. */
const ageSaidFromMs = 10 * 60_000;

/** `2026-11-25 02:00 UTC` of an ISO 8601 time. */
export function timeWords(iso: string): string {
  return `${iso.slice(0, 10)} ${iso.slice(11, 16)} UTC`;
}

/** `0.4 s`, `12 s`, `5 min`, `7 h`, `3 days`, rounded down. */
export function durationWords(ms: number): string {
  const seconds = ms / 1000;
  if (seconds < 10) return `${(Math.floor(seconds * 10) / 10).toFixed(1)} s`;
  if (seconds < 120) return `${Math.floor(seconds)} s`;
  if (seconds < 7200) return `${Math.floor(seconds / 60)} min`;
  if (seconds < 172_800) return `${Math.floor(seconds / 3600)} h`;
  return `${Math.floor(seconds / 86_400)} days`;
}
