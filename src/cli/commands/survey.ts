import { planSurvey, planThisMachine } from '../../collect/plan.ts';
import { saveSurvey } from '../../facts/saved-survey.ts';
import type { Survey } from '../../facts/survey.ts';
import { wasRead } from '../../facts/was-read.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { clean } from '../../report/layout.ts';
import { redactSurvey } from '../../report/redact.ts';
import { surveyText } from '../../report/survey-text.ts';
import type { Io } from '../io.ts';
import { hasDefaultIntent, requireIntent } from '../load-inputs.ts';
import type { SurveyOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { showCommands } from '../show-commands.ts';
import { savedSurvey, takeSurvey } from '../take-survey.ts';
import { requireWritable, textLook, writeResult } from '../write-result.ts';

/**
 * Only reads: the nodes of an intent, or this machine where there is none. `--out` saves what was
 * read for `audit --survey`. Gives 0 when every node was read, else 2.
 */
export async function survey(
  file: string | undefined,
  options: SurveyOptions,
  io: Io,
): Promise<number> {
  if (options.redact === true && (options.out !== undefined || options.format === 'json')) {
    throw new RunFault(exitStatuses.usage, [
      'a saved survey with other names could not be judged: leave --redact out, and give it to audit',
    ]);
  }
  const named = file ?? options.intent;
  const intent =
    named === undefined && !(await hasDefaultIntent(io))
      ? undefined
      : await requireIntent(named, io);
  const plan = intent === undefined ? planThisMachine() : planSurvey(intent);
  if (options.showCommands === true) return showCommands(plan, io);
  await requireWritable(options.out, io);
  const taken =
    options.survey === undefined
      ? await takeSurvey(plan, io, { quiet: options.quiet === true })
      : await savedSurvey(options.survey, io);
  if (options.format === 'json' || options.out !== undefined) {
    await writeResult(saveSurvey(taken), options.out, io, 'owner');
  }
  if (options.format === 'text' && options.quiet !== true) {
    const shown = options.redact === true ? redactSurvey(taken) : taken;
    const look = { ...textLook(undefined, io), verbose: options.verbose === true };
    await writeResult(surveyText(shown, look), undefined, io);
    if (options.out !== undefined) io.stdout.write(`saved in ${clean(options.out)}\n`);
  }
  return allRead(taken) ? exitStatuses.met : exitStatuses.undetermined;
}

function allRead({ nodes }: Survey): boolean {
  return nodes.every(wasRead);
}
