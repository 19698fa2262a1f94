import { confirm } from '../../change/confirm.ts';
import type { Confirmation } from '../../change/confirmation.ts';
import { stateAfter } from '../../change/foretell.ts';
import type { KeptRehearsal } from '../../change/kept.ts';
import { type PlannedChange, planChange } from '../../change/plan-change.ts';
import type { ChangeStep } from '../../change/types.ts';
import { planSurvey } from '../../collect/plan.ts';
import { stableJson } from '../../facts/json.ts';
import type { ReadTopic } from '../../facts/read-topics.ts';
import type { Survey } from '../../facts/survey.ts';
import { absolutePath } from '../../intent/file-path.ts';
import type { Intent } from '../../intent/types.ts';
import { topicsOf } from '../../judge/topics-of.ts';
import { confirmMarkdown } from '../../report/confirm-markdown.ts';
import { confirmStatus } from '../../report/confirm-status.ts';
import { confirmText } from '../../report/confirm-text.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { timeWords } from '../../report/summary-line.ts';
import type { Io } from '../io.ts';
import { requireKept, say } from '../keep-rehearsal.ts';
import { keptIo } from '../kept-files.ts';
import { requireChange } from '../load-change-file.ts';
import { inputFault, requireIntent, requirePolicies } from '../load-inputs.ts';
import type { ConfirmOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { showCommands } from '../show-commands.ts';
import { savedSurvey, takeSurvey } from '../take-survey.ts';
import { textLook } from '../write-result.ts';

/** Reads the site again after a rehearsed change, or in the middle of it; gives the exit status. */
export async function confirmChange(
  file: string,
  options: ConfirmOptions,
  io: Io,
): Promise<number> {
  const kept = await requireKept(file, options, io);
  await tellIfOther(file, kept, io);
  const { before, planned } = await usable(kept, options, io);
  const order = orderOf(kept, planned);
  const upTo = stepNumber(options.step, order.length);
  const policies = await requirePolicies(planned.intent, io);
  const { intent } = stateAfter(planned, kept.survey, order.slice(0, upTo));
  if (options.showCommands === true) return showCommands(planSurvey(intent), io);
  const topics = new Set<ReadTopic>(topicsOf(policies));
  // Nothing else tells where a cord ends.
  if (order.some(({ setting }) => setting === 'link')) topics.add('neighbours');
  const survey = await surveyOf({ intent, topics, kept }, options, io);
  const now = io.now().toISOString();
  const { rehearsedAt } = kept;
  const confirmation = confirm(
    { before, planned, order, kept: kept.survey, survey, policies, now, upTo },
    { change: kept.change, rehearsedAt },
  );
  io.stdout.write(written(confirmation, options, io));
  return confirmStatus(confirmation, options.least);
}

function written(confirmation: Confirmation, { format, least }: ConfirmOptions, io: Io): string {
  if (format === 'json') return stableJson(confirmation);
  return format === 'markdown'
    ? confirmMarkdown(confirmation, least)
    : confirmText(confirmation, { ...textLook(undefined, io), least });
}

/** The change is confirmed as it was rehearsed, whatever its file says by now. */
async function tellIfOther(file: string, kept: KeptRehearsal, io: Io): Promise<void> {
  const then = kept.files[absolutePath(kept.change, kept.workingFolder)];
  const now = await io.readTextFile(file);
  if (now.ok && now.text === then) return;
  const what = now.ok ? 'it is not what was rehearsed' : now.reason;
  say(
    io,
    `${file}: ${what}; this confirms the change as it was rehearsed on ${timeWords(kept.rehearsedAt)}`,
  );
}

/** The intent and the change of a kept rehearsal, by the loaders that loaded them then. */
async function usable(
  kept: KeptRehearsal,
  options: ConfirmOptions,
  io: Io,
): Promise<{ readonly before: Intent; readonly planned: PlannedChange }> {
  const then = keptIo(kept, io);
  try {
    const before = await requireIntent(kept.intent, then);
    const asked = await requireChange(kept.change, before, then);
    const planned = planChange(before, kept.survey, asked);
    if (!planned.ok) throw inputFault(planned.faults);
    return { before, planned: planned.value };
  } catch (error) {
    if (!(error instanceof RunFault)) throw error;
    const where = options.kept ?? 'what was kept of the rehearsal';
    const lead = `${where}: what it holds cannot be used; rehearse the change again:`;
    throw new RunFault(error.status, [lead, ...error.lines]);
  }
}

/** The steps in the order that was rehearsed. */
function orderOf({ order, change }: KeptRehearsal, { steps }: PlannedChange): ChangeStep[] {
  const byId = new Map(steps.map((step) => [step.id, step]));
  const found = order.flatMap((id) => byId.get(id) ?? []);
  if (found.length !== steps.length || found.length !== order.length)
    throw new RunFault(exitStatuses.input, [
      `${change}: its steps were made out otherwise when it was rehearsed, by another version of hopgauge or without an order; rehearse it again`,
    ]);
  return found;
}

function stepNumber(step: number | undefined, count: number): number {
  if (step === undefined) return count;
  if (step <= count) return step;
  const has = count === 0 ? 'has no steps; leave --step out' : `has ${count}; give 1 to ${count}`;
  throw new RunFault(exitStatuses.usage, [`--step ${step}: the change ${has}`]);
}

interface Reading {
  readonly intent: Intent;
  readonly topics: ReadonlySet<ReadTopic>;
  readonly kept: KeptRehearsal;
}

async function surveyOf(
  { intent, topics, kept }: Reading,
  options: ConfirmOptions,
  io: Io,
): Promise<Survey> {
  if (options.survey === undefined)
    return takeSurvey(planSurvey(intent), io, { quiet: options.quiet === true, topics });
  const survey = await savedSurvey(options.survey, io);
  const [read, then] = [Date.parse(survey.endedAt), Date.parse(kept.survey.endedAt)];
  if (read > then) return survey;
  const what =
    read === then
      ? `read ${timeWords(survey.endedAt)}: that is what the change was rehearsed on`
      : `read ${timeWords(survey.endedAt)}, before what the change was rehearsed on (${timeWords(kept.survey.endedAt)})`;
  throw new RunFault(exitStatuses.input, [
    `${options.survey}: ${what}; name a survey of after the change`,
  ]);
}
