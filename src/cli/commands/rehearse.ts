import type { KeptRehearsal } from '../../change/kept.ts';
import { onPaper } from '../../change/on-paper/on-paper.ts';
import { planChange } from '../../change/plan-change.ts';
import type { Rehearsal } from '../../change/rehearsal.ts';
import { rehearse } from '../../change/rehearse.ts';
import { planSurvey } from '../../collect/plan.ts';
import { stableJson } from '../../facts/json.ts';
import type { Survey } from '../../facts/survey.ts';
import type { Intent } from '../../intent/types.ts';
import type { Policy } from '../../judge/policy.ts';
import { topicsOf } from '../../judge/topics-of.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { onPaperText } from '../../report/on-paper-text.ts';
import { procedureMarkdown } from '../../report/procedure-markdown.ts';
import { procedureOf } from '../../report/procedure-of.ts';
import { rehearsalStatus } from '../../report/rehearsal-status.ts';
import { rehearsalText } from '../../report/rehearsal-text.ts';
import type { Io, Written } from '../io.ts';
import { confirmCommand, keepByDefault, keepWhereSaid, keptPlace } from '../keep-rehearsal.ts';
import { notingFiles } from '../kept-files.ts';
import { requireChange } from '../load-change-file.ts';
import { defaultIntentFile, inputFault, requireIntent, requirePolicies } from '../load-inputs.ts';
import type { RehearseOptions } from '../options.ts';
import { pastSurvey } from '../past-survey.ts';
import { RunFault } from '../run-fault.ts';
import { showCommands } from '../show-commands.ts';
import { savedSurvey, takeSurvey } from '../take-survey.ts';
import { notWritten, requireWritable, textLook, writeResult } from '../write-result.ts';

/** Judges a change before it is made, or without one the intent on paper; gives the exit status. */
export async function rehearseChange(
  file: string | undefined,
  options: RehearseOptions,
  io: Io,
): Promise<number> {
  const noted = notingFiles(io);
  const intent = await requireIntent(options.intent, noted.io);
  if (file === undefined) return paper(intent, options, io);
  requireSense(options);
  const policies = await requirePolicies(intent, io);
  const asked = await requireChange(file, intent, noted.io);
  if (options.showCommands === true) return showCommands(planSurvey(intent), io);
  await requireWritable(options.out, io);
  await requireWritable(options.keep, io, 'keep');
  const survey = await surveyOf({ intent, policies }, options, io);
  const planned = planChange(intent, survey, asked);
  if (!planned.ok) throw inputFault(planned.faults);
  const now = io.now().toISOString();
  const rehearsal = rehearse({ intent, survey, policies, now }, planned.value);
  const json = stableJson(rehearsal);
  if (options.out !== undefined) await writeResult(json, options.out, io, 'owner');
  const files = Object.fromEntries(noted.files);
  const order = rehearsal.order?.steps.map(({ id }) => id) ?? [];
  const keeping = await kept({ file, options, io }, { rehearsedAt: now, files, order, survey });
  const command = keeping.ok ? confirmCommand(file, options) : undefined;
  io.stdout.write(
    options.format === 'json' ? json : written(rehearsal, { command, file, options, io }),
  );
  if (!keeping.ok && options.keep !== undefined)
    throw notWritten(options.keep, keeping.reason, 'keep');
  return rehearsalStatus(rehearsal, options.least);
}

interface Rehearsing {
  readonly file: string;
  readonly options: RehearseOptions;
  readonly io: Io;
}

/** Keeps what `confirm` needs; without a step there is nothing to confirm, and what is kept stays. */
async function kept(
  { file, options, io }: Rehearsing,
  made: Pick<KeptRehearsal, 'rehearsedAt' | 'files' | 'order' | 'survey'>,
): Promise<Written> {
  const { workingFolder } = io;
  const all: KeptRehearsal = {
    kept: 1,
    change: file,
    intent: options.intent ?? defaultIntentFile,
    ...(workingFolder === undefined ? {} : { workingFolder }),
    ...made,
  };
  if (options.keep !== undefined) return keepWhereSaid(all, options.keep, io);
  if (made.order.length === 0) return { ok: false, reason: 'there is no step' };
  return keepByDefault(all, keptPlace(file, options.intent, io), io);
}

function written(
  rehearsal: Rehearsal,
  { command, file, options, io }: Rehearsing & { readonly command: string | undefined },
): string {
  const procedure =
    options.format === 'markdown'
      ? procedureOf(rehearsal, command ?? confirmCommand(file, options))
      : undefined;
  return procedure === undefined
    ? rehearsalText(rehearsal, textLook(undefined, io), command)
    : procedureMarkdown(procedure);
}

const optionWords: Readonly<Record<string, string>> = {
  showCommands: 'show-commands',
  lastRead: 'last-read',
};

/** Where a survey comes from is said once. */
function requireSense({ survey, lastRead, store }: RehearseOptions): void {
  if (survey !== undefined && lastRead === true)
    throw new RunFault(exitStatuses.usage, [
      '--survey and --last-read both say on what to rehearse: leave one of the two out',
    ]);
  if (store !== undefined && lastRead !== true)
    throw new RunFault(exitStatuses.usage, ['--store has no use without --last-read; add it']);
}

function paper(intent: Intent, options: RehearseOptions, io: Io): number {
  const unused = (['survey', 'lastRead', 'store', 'out', 'keep', 'showCommands'] as const).find(
    (name) => options[name] !== undefined,
  );
  if (options.format === 'markdown')
    throw new RunFault(exitStatuses.usage, [
      '--format markdown is the procedure of a change: name a change file',
    ]);
  if (unused !== undefined) {
    const option = optionWords[unused] ?? unused;
    throw new RunFault(exitStatuses.usage, [
      `--${option} has no use without a change: name a change file, or leave it out`,
    ]);
  }
  const remarks = onPaper(intent);
  const json = () => stableJson({ site: intent.site, remarks });
  const text = () => onPaperText(intent.site, remarks, textLook(undefined, io));
  io.stdout.write(options.format === 'json' ? json() : text());
  if (remarks.some(({ kind }) => kind === 'impossible')) return exitStatuses.broken;
  return remarks.some(({ kind }) => kind === 'unknown')
    ? exitStatuses.undetermined
    : exitStatuses.met;
}

async function surveyOf(
  { intent, policies }: { readonly intent: Intent; readonly policies: readonly Policy[] },
  options: RehearseOptions,
  io: Io,
): Promise<Survey> {
  if (options.survey !== undefined) return savedSurvey(options.survey, io);
  if (options.lastRead === true) return pastSurvey(intent.site, options.store, io);
  const topics = topicsOf(policies);
  return takeSurvey(planSurvey(intent), io, { quiet: options.quiet === true, topics });
}
