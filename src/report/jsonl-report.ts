import { stableJsonLine } from '../facts/json.ts';
import { clearedView, saidChanges } from './moved-view.ts';
import type { AuditResult } from './types.ts';

/**
 * JSON Lines: each finding on a line of its own; where a history is kept, with its life, and then
 * what cleared, each change and each growth of errors. `at` is the start of the audit.
 */
export function* jsonlReport(result: AuditResult): Iterable<string> {
  const { judgement, moved, startedAt: at } = result;
  const site = result.site.intent.site;
  const lives = new Map(
    (moved?.settlement.living ?? []).map(({ finding, life, since }) => [
      finding.id,
      { life, since },
    ]),
  );
  const lineOf = (line: object) => stableJsonLine({ at, site, ...line });
  for (const finding of judgement.findings)
    yield lineOf({ line: 'finding', ...finding, ...lives.get(finding.id) });
  const lines: readonly object[] = [
    ...(moved?.settlement.cleared ?? []).map((finding) => ({
      line: 'cleared',
      ...clearedView(finding),
    })),
    ...saidChanges(result).map((change) => ({ line: 'change', ...change })),
    ...(moved?.growths ?? []).map((growth) => ({ line: 'growth', ...growth })),
  ];
  yield* lines.map(lineOf);
}
