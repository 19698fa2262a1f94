import { stableJson } from '../facts/json.ts';
import type { HistoryView } from './history-text.ts';

/** A history as one JSON document; equal histories give equal bytes. */
export function historyJson({ site, target, timeline, audits }: HistoryView): string {
  return stableJson({ history: 1, site, target, ...timeline, audits });
}

/** A history as JSON Lines: each audit, then each event, on a line of its own. */
export function historyLines({ site, timeline, audits }: HistoryView): string {
  const lines = [
    ...[...audits]
      .reverse()
      .map((audit) => ({ kind: 'audit', at: audit.startedAt, site, ...audit })),
    ...timeline.events.map((event) => ({ site, ...event })),
  ];
  return lines.map((line) => `${JSON.stringify(line)}\n`).join('');
}
