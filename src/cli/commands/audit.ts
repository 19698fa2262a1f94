import { planSurvey } from '../../collect/plan.ts';
import type { Survey } from '../../facts/survey.ts';
import type { Intent } from '../../intent/types.ts';
import { judge } from '../../judge/judge.ts';
import type { Policy } from '../../judge/policy.ts';
import { topicsOf } from '../../judge/topics-of.ts';
import { changesText } from '../../report/changes-text.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { jsonReport } from '../../report/json-report.ts';
import { clean } from '../../report/layout.ts';
import { redactResult } from '../../report/redact.ts';
import { resultStatus } from '../../report/result-status.ts';
import { summaryLine } from '../../report/summary-line.ts';
import { textReport } from '../../report/text-report.ts';
import type { AuditResult } from '../../report/types.ts';
import { buildSite } from '../../site/build-site.ts';
import { subjectsOf } from '../../site/subjects-of.ts';
import { type HeldHistory, holdHistory } from '../history-of.ts';
import type { Io } from '../io.ts';
import { requireIntent, requirePolicies } from '../load-inputs.ts';
import type { AuditOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { showCommands } from '../show-commands.ts';
import { savedSurvey, takeSurvey } from '../take-survey.ts';
import { toolVersion } from '../tool-version.ts';
import { requireWritable, textLook, writeResult } from '../write-result.ts';

interface Inputs {
  readonly intent: Intent;
  readonly policies: readonly Policy[];
  /** Absent: no history is kept. */
  readonly history?: HeldHistory;
}

/** Reads the nodes of an intent, judges them and reports; gives the exit status. */
export async function audit(
  file: string | undefined,
  options: AuditOptions,
  io: Io,
): Promise<number> {
  requireSense(options);
  const intent = await requireIntent(file ?? options.intent, io);
  // Before anything is read: a misspelt rule must not cost a round through the site.
  const policies = await requirePolicies(intent, io);
  if (options.showCommands === true) return showCommands(planSurvey(intent), io);
  await requireWritable(options.out, io);
  if (options.changes !== true) return judgeAndReport({ intent, policies }, options, io);
  const history = await holdHistory(intent.site, options.store, io);
  try {
    return await judgeAndReport({ intent, policies, history }, options, io);
  } finally {
    await history.release();
  }
}

function requireSense({ changes, all, store, survey }: AuditOptions): void {
  const without = (option: string) =>
    new RunFault(exitStatuses.usage, [`${option} has no use without --changes; add it`]);
  if (changes === true && survey !== undefined) {
    throw new RunFault(exitStatuses.usage, [
      '--changes keeps what was read tonight, and a saved survey was not: leave one of the two out',
    ]);
  }
  if (changes !== true && all === true) throw without('--all');
  if (changes !== true && store !== undefined) throw without('--store');
}

async function judgeAndReport(inputs: Inputs, options: AuditOptions, io: Io): Promise<number> {
  const startedAt = io.now().toISOString();
  const survey = await surveyOf(inputs, options, io);
  const { result, keep } = judged(inputs, { survey, startedAt }, options, io);
  const status = resultStatus(result);
  await report(result, status, options, io);
  // After the report: a night that was told and not kept is told again, never lost.
  await keep();
  return status;
}

/** Tonight's verdicts, compared with the nights before where a history is held. */
function judged(
  { intent, policies, history }: Inputs,
  { survey, startedAt }: { readonly survey: Survey; readonly startedAt: string },
  options: AuditOptions,
  io: Io,
): { readonly result: AuditResult; readonly keep: () => Promise<void> } {
  const strict = options.strict === true;
  const earlier = history?.past.known;
  const site = buildSite(intent, survey, { strict, ...(earlier === undefined ? {} : { earlier }) });
  const judgement = judge(subjectsOf(site), policies, {
    waivers: intent.waivers,
    now: startedAt,
    strict,
    watch: history?.past.open ?? [],
  });
  const endedAt = io.now().toISOString();
  const result: AuditResult = {
    site,
    judgement,
    survey,
    startedAt,
    endedAt,
    toolVersion: toolVersion(),
    strict,
    least: options.least,
  };
  if (history === undefined) return { result, keep: async () => undefined };
  const closed = history.close({ intent, survey, judgement, startedAt, endedAt });
  const { night: _, ...moved } = closed;
  return { result: { ...result, moved }, keep: () => history.write(closed) };
}

async function surveyOf(
  { intent, policies }: Inputs,
  options: AuditOptions,
  io: Io,
): Promise<Survey> {
  if (options.survey !== undefined) return savedSurvey(options.survey, io);
  const topics = topicsOf(policies);
  return takeSurvey(planSurvey(intent), io, { quiet: options.quiet === true, intent, topics });
}

async function report(
  result: AuditResult,
  status: number,
  options: AuditOptions,
  io: Io,
): Promise<void> {
  const hush = options.quiet === true && result.moved === undefined;
  if (hush && status === 0 && options.out === undefined) return;
  const text = written(result, options, io);
  if (text !== '' || options.out !== undefined) await writeResult(text, options.out, io);
  if (options.out !== undefined && options.quiet !== true) {
    io.stderr.write(`${summaryLine(result)}; report in ${clean(options.out)}\n`);
  }
}

function written(result: AuditResult, options: AuditOptions, io: Io): string {
  const shown = options.redact === true ? redactResult(result) : result;
  if (options.format === 'json') return jsonReport(shown);
  const look = { ...textLook(options.out, io), verbose: options.verbose === true };
  if (shown.moved === undefined || options.all === true) return textReport(shown, look);
  return changesText(shown, shown.moved, look);
}
