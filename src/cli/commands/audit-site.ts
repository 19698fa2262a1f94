import { planSurvey } from '../../collect/plan.ts';
import { addNight } from '../../drift/add-night.ts';
import type { ClosedNight } from '../../drift/close-night.ts';
import { withProofs } from '../../facts/newest-proofs.ts';
import type { Survey } from '../../facts/survey.ts';
import type { Intent } from '../../intent/types.ts';
import { judge } from '../../judge/judge.ts';
import type { Policy } from '../../judge/policy.ts';
import { topicsOf } from '../../judge/topics-of.ts';
import { clean } from '../../report/layout.ts';
import { pagePast } from '../../report/page/past/page-past.ts';
import { redactResult } from '../../report/redact.ts';
import { resultStatus } from '../../report/result-status.ts';
import { summaryLine } from '../../report/summary-line.ts';
import type { AuditResult } from '../../report/types.ts';
import { writeForm } from '../../report/write-form.ts';
import { buildSite } from '../../site/build-site.ts';
import { subjectsOf } from '../../site/subjects-of.ts';
import type { AuditJob } from '../audit-job.ts';
import { type HeldHistory, holdHistory } from '../history-of.ts';
import type { Io, Text } from '../io.ts';
import { keepAudit, lastValues } from '../kept-audit.ts';
import { nightlyFits, unprovenPaths } from '../nightly-fits.ts';
import { collectedWords } from '../nightly-words.ts';
import type { AuditOptions } from '../options.ts';
import type { Output } from '../outputs.ts';
import { interrupted, savedSurvey, takeSurvey } from '../take-survey.ts';
import { toolVersion } from '../tool-version.ts';
import { textLook, writeResult } from '../write-result.ts';

/** What the audit of one site begins with. */
export interface AuditInputs {
  readonly intent: Intent;
  readonly policies: readonly Policy[];
  readonly job: AuditJob;
}

interface Inputs extends AuditInputs {
  /** Absent: no history is kept. */
  readonly history?: HeldHistory;
}

/** Reads the nodes of one site, judges them and reports; gives the exit status. */
export async function auditSite(
  inputs: AuditInputs,
  options: AuditOptions,
  io: Io,
): Promise<number> {
  if (options.changes !== true) return judgeAndReport(inputs, options, io);
  const { intent, job } = inputs;
  const { store } = options;
  const history = await holdHistory(intent.site, { store, patience: job.patience }, io);
  try {
    return await judgeAndReport({ ...inputs, history }, options, io);
  } finally {
    await history.release();
  }
}

async function judgeAndReport(inputs: Inputs, options: AuditOptions, io: Io): Promise<number> {
  const startedAt = io.now().toISOString();
  const survey = await surveyOf(inputs, options, io);
  const { result, keep, closed } = judged(inputs, { survey, startedAt }, options, io);
  const status = resultStatus(result);
  await report(await withPast(result, closed, inputs, options), status, options, io);
  const told = await inputs.job.tell(result, status);
  // After the report: a night that was told and not kept is told again, never lost.
  await keep();
  return told;
}

interface Judged {
  readonly result: AuditResult;
  readonly keep: () => Promise<void>;
  /** Absent: no history is kept. */
  readonly closed?: ClosedNight;
}

/** The nights before and tonight, where a page is to be written that draws them. */
async function withPast(
  result: AuditResult,
  closed: ClosedNight | undefined,
  { history }: Inputs,
  { outputs }: AuditOptions,
): Promise<AuditResult> {
  if (history === undefined || closed === undefined) return result;
  if (!outputs.some(({ form }) => form === 'html')) return result;
  const past = addNight(await history.drawn(), closed.night);
  return { ...result, past: pagePast(past, lastValues(history.past.known)) };
}

/** Tonight's verdicts, compared with the nights before where a history is held. */
function judged(
  { intent, policies, history }: Inputs,
  { survey, startedAt }: { readonly survey: Survey; readonly startedAt: string },
  options: AuditOptions,
  io: Io,
): Judged {
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
  const keep = () => history.write(closed, keepAudit(result, survey, closed));
  return { result: { ...result, moved }, keep, closed };
}

/** What is read tonight, with what active tests have shown before and show now. */
async function surveyOf(
  { intent, policies, job, history }: Inputs,
  options: AuditOptions,
  io: Io,
): Promise<Survey> {
  if (options.survey !== undefined) return savedSurvey(options.survey, io);
  const topics = topicsOf(policies);
  const { deadline } = job;
  const quiet = options.quiet === true;
  const known = history?.proofs ?? { fits: [], transfers: [] };
  if (options.collect === true) {
    const { collectElsewhere } = await import('../collect-elsewhere.ts');
    const { store, deadline: waitWords } = options;
    const { patience, say } = job;
    const wanted = { store, quiet, topics, deadline, waitWords, patience, say };
    const read = withProofs(await collectElsewhere(planSurvey(intent), wanted, io), known);
    // Fits are run by who reaches the hosts; collectors only read.
    for (const line of collectedWords(unprovenPaths(intent, read), store))
      io.stderr.write(`${line}\n`);
    return read;
  }
  const read = await takeSurvey(planSurvey(intent), io, { quiet, topics, deadline });
  const signal = deadline?.reading ?? io.signal;
  const fits = await nightlyFits(intent, read, io, { quiet, signal });
  if (io.signal.aborted) throw interrupted();
  return withProofs(withProofs(read, known), { fits, transfers: [] });
}

async function report(
  result: AuditResult,
  status: number,
  options: AuditOptions,
  io: Io,
): Promise<void> {
  const shown = options.redact === true ? redactResult(result) : result;
  const hush = options.quiet === true && result.moved === undefined && status === 0;
  for (const output of options.outputs) {
    if (output.file === undefined && hush) continue;
    await writeResult(written(shown, output, options, io), output.file, io);
  }
  const files = options.outputs.flatMap(({ file }) => (file === undefined ? [] : [clean(file)]));
  if (files.length > 0 && options.quiet !== true) {
    io.stderr.write(`${summaryLine(result)}; report in ${files.join(', ')}\n`);
  }
}

function written(
  result: AuditResult,
  { form, file }: Output,
  { verbose, all }: AuditOptions,
  io: Io,
): Text {
  return writeForm(form, result, {
    ...textLook(file, io),
    verbose: verbose === true,
    all: all === true,
  });
}
