import type { Asked } from '../../change/asked.ts';
import { loadChange } from '../../change/load-change.ts';
import { onPaper } from '../../change/on-paper.ts';
import { planChange } from '../../change/plan-change.ts';
import type { Rehearsal } from '../../change/rehearsal.ts';
import { rehearse } from '../../change/rehearse.ts';
import { askedByIntent } from '../../change/second-intent.ts';
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
import type { Io } from '../io.ts';
import { inputFault, requireIntent, requirePolicies } from '../load-inputs.ts';
import type { RehearseOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { showCommands } from '../show-commands.ts';
import { savedSurvey, takeSurvey } from '../take-survey.ts';
import { requireWritable, textLook, writeResult } from '../write-result.ts';

/** Judges a change before it is made, or without one the intent on paper; gives the exit status. */
export async function rehearseChange(
  file: string | undefined,
  options: RehearseOptions,
  io: Io,
): Promise<number> {
  const intent = await requireIntent(options.intent, io);
  if (file === undefined) return paper(intent, options, io);
  const policies = await requirePolicies(intent, io);
  const asked = await requireChange(file, intent, io);
  if (options.showCommands === true) return showCommands(planSurvey(intent), io);
  await requireWritable(options.out, io);
  const survey = await surveyOf({ intent, policies }, options, io);
  const planned = planChange(intent, survey, asked);
  if (!planned.ok) throw inputFault(planned.faults);
  const now = io.now().toISOString();
  const rehearsal = rehearse({ intent, survey, policies, now }, planned.value);
  const json = stableJson(rehearsal);
  if (options.out !== undefined) await writeResult(json, options.out, io, 'owner');
  io.stdout.write(options.format === 'json' ? json : written(rehearsal, { file, options, io }));
  return rehearsalStatus(rehearsal, options.least);
}

function written(
  rehearsal: Rehearsal,
  { file, options, io }: { file: string; options: RehearseOptions; io: Io },
): string {
  const intent = options.intent === undefined ? '' : ` --intent ${options.intent}`;
  // Read again, the same rehearsal tells what is left to set.
  const again = `hopgauge rehearse ${file}${intent}`;
  const procedure = options.format === 'markdown' ? procedureOf(rehearsal, again) : undefined;
  return procedure === undefined
    ? rehearsalText(rehearsal, textLook(undefined, io))
    : procedureMarkdown(procedure);
}

function paper(intent: Intent, options: RehearseOptions, io: Io): number {
  const unused = (['survey', 'out', 'showCommands'] as const).find(
    (name) => options[name] !== undefined,
  );
  if (options.format === 'markdown')
    throw new RunFault(exitStatuses.usage, [
      '--format markdown is the procedure of a change: name a change file',
    ]);
  if (unused !== undefined) {
    const option = unused === 'showCommands' ? 'show-commands' : unused;
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

const secondIntent = /^(?:\s*(?:#.*)?\n|---\s*\n)*intent\s*:/;

/** A change file, or a second intent: what the first key is tells which. */
async function requireChange(file: string, intent: Intent, io: Io): Promise<Asked> {
  const read = await io.readTextFile(file);
  if (!read.ok)
    throw new RunFault(exitStatuses.input, [`${file}: ${read.reason}; name a change file`]);
  if (secondIntent.test(read.text)) return askedByIntent(intent, await requireIntent(file, io));
  const loaded = loadChange(read.text, file, intent);
  if (!loaded.ok) throw inputFault(loaded.faults);
  return loaded.value;
}

async function surveyOf(
  { intent, policies }: { readonly intent: Intent; readonly policies: readonly Policy[] },
  options: RehearseOptions,
  io: Io,
): Promise<Survey> {
  if (options.survey !== undefined) return savedSurvey(options.survey, io);
  const topics = topicsOf(policies);
  return takeSurvey(planSurvey(intent), io, { quiet: options.quiet === true, intent, topics });
}
