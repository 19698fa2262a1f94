import { addNight } from '../../drift/add-night.ts';
import type { ClosedNight } from '../../drift/close-night.ts';
import type { Survey } from '../../facts/survey.ts';
import { judge } from '../../judge/judge.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { clean } from '../../report/layout.ts';
import { pagePast } from '../../report/page/past/page-past.ts';
import { resultStatus } from '../../report/result-status.ts';
import type { AuditResult } from '../../report/types.ts';
import { buildSite } from '../../site/build-site.ts';
import { subjectsOf } from '../../site/subjects-of.ts';
import type { AuditInputs, HeldInputs } from '../audit-inputs.ts';
import { reportAudit } from '../audit-report.ts';
import { surveyForAudit } from '../audit-survey.ts';
import { holdHistory } from '../history-of.ts';
import type { Io } from '../io.ts';
import { keepAudit, lastValues } from '../kept-audit.ts';
import type { AuditOptions } from '../options.ts';
import { toolVersion } from '../tool-version.ts';

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

async function judgeAndReport(inputs: HeldInputs, options: AuditOptions, io: Io): Promise<number> {
  const startedAt = io.now().toISOString();
  const survey = await surveyForAudit(inputs, options, io);
  const { result, keep, closed } = judged(inputs, { survey, startedAt }, options, io);
  const status = resultStatus(result);
  await reportAudit(await withPast(result, closed, inputs, options), status, options, io);
  const told = await inputs.job.tell(result, status);
  if ((await io.stdout.settled?.()) !== undefined) return untold(inputs, io);
  // After the report: a night that was told and not kept is told again, never lost.
  await keep();
  return told;
}

/** A report that nobody can have read: stdout itself is complained of by who owns it. */
function untold({ history, intent }: HeldInputs, io: Io): number {
  if (history !== undefined)
    io.stderr.write(
      `${clean(intent.site)}: this audit is not kept in the history, so that the next one tells what this could not\n`,
    );
  return exitStatuses.cannotWrite;
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
  { history }: HeldInputs,
  { outputs }: AuditOptions,
): Promise<AuditResult> {
  if (history === undefined || closed === undefined) return result;
  if (!outputs.some(({ form }) => form === 'html')) return result;
  const past = addNight(await history.drawn(), closed.night);
  return { ...result, past: pagePast(past, lastValues(history.past.known)) };
}

/** Tonight's verdicts, compared with the nights before where a history is held. */
function judged(
  { intent, policies, history }: HeldInputs,
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
