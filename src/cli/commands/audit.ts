import { planSurvey } from '../../collect/plan.ts';
import type { ReadTopic } from '../../facts/read-topics.ts';
import type { Survey } from '../../facts/survey.ts';
import type { Intent } from '../../intent/types.ts';
import { judge } from '../../judge/judge.ts';
import { topicsOf } from '../../judge/topics-of.ts';
import { exitStatus } from '../../report/exit-status.ts';
import { jsonReport } from '../../report/json-report.ts';
import { clean } from '../../report/layout.ts';
import { redactResult } from '../../report/redact.ts';
import { summaryLine } from '../../report/summary-line.ts';
import { textReport } from '../../report/text-report.ts';
import type { AuditResult } from '../../report/types.ts';
import { buildSite } from '../../site/build-site.ts';
import { subjectsOf } from '../../site/subjects-of.ts';
import type { Io } from '../io.ts';
import { requireIntent, requirePolicies } from '../load-inputs.ts';
import type { AuditOptions } from '../options.ts';
import { showCommands } from '../show-commands.ts';
import { savedSurvey, takeSurvey } from '../take-survey.ts';
import { toolVersion } from '../tool-version.ts';
import { requireWritable, textLook, writeResult } from '../write-result.ts';

/** Reads the nodes of an intent, judges them and reports; gives the exit status. */
export async function audit(
  file: string | undefined,
  options: AuditOptions,
  io: Io,
): Promise<number> {
  const startedAt = io.now().toISOString();
  const intent = await requireIntent(file ?? options.intent, io);
  // Before anything is read: a misspelt rule must not cost a round through the site.
  const policies = await requirePolicies(intent, io);
  if (options.showCommands === true) return showCommands(planSurvey(intent), io);
  await requireWritable(options.out, io);
  const survey = await surveyOf({ intent, topics: topicsOf(policies) }, options, io);
  const strict = options.strict === true;
  const site = buildSite(intent, survey, { strict });
  const judgement = judge(subjectsOf(site), policies, {
    waivers: intent.waivers,
    now: startedAt,
    strict,
  });
  const result: AuditResult = {
    site,
    judgement,
    survey,
    startedAt,
    endedAt: io.now().toISOString(),
    toolVersion: toolVersion(),
    strict,
    least: options.least,
  };
  const status = exitStatus(judgement, options.least);
  if (options.quiet === true && status === 0 && options.out === undefined) return status;
  await writeResult(written(result, options, io), options.out, io);
  if (options.out !== undefined && options.quiet !== true) {
    io.stderr.write(`${summaryLine(result)}; report in ${clean(options.out)}\n`);
  }
  return status;
}

async function surveyOf(
  { intent, topics }: { readonly intent: Intent; readonly topics: ReadonlySet<ReadTopic> },
  options: AuditOptions,
  io: Io,
): Promise<Survey> {
  if (options.survey !== undefined) return savedSurvey(options.survey, io);
  return takeSurvey(planSurvey(intent), io, { quiet: options.quiet === true, intent, topics });
}

function written(result: AuditResult, options: AuditOptions, io: Io): string {
  const shown = options.redact === true ? redactResult(result) : result;
  if (options.format === 'json') return jsonReport(shown);
  return textReport(shown, { ...textLook(options.out, io), verbose: options.verbose === true });
}
