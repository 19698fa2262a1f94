import { collectSurvey } from '../collect/collect-survey.ts';
import type { SurveyPlan } from '../collect/plan.ts';
import { everyTopic, type ReadTopic } from '../facts/read-topics.ts';
import { loadSurvey } from '../facts/saved-survey.ts';
import type { Survey } from '../facts/survey.ts';
import { exitStatuses } from '../report/exit-status.ts';
import type { Io } from './io.ts';
import { progressOn } from './progress.ts';
import { RunFault } from './run-fault.ts';
import type { Deadline } from './run-time.ts';

/** Reads the nodes of a plan, with progress; ends the run when the operator interrupts. */
export async function takeSurvey(
  plan: SurveyPlan,
  io: Io,
  options: {
    readonly quiet: boolean;
    /** Absent: everything. */
    readonly topics?: ReadonlySet<ReadTopic>;
    /** Absent: each node has its own time limits and the run has none. */
    readonly deadline?: Pick<Deadline, 'reading' | 'trouble'> | undefined;
  },
): Promise<Survey> {
  const progress = progressOn(io.stderr, { quiet: options.quiet, env: io.env });
  // Loaded here: judging a saved survey needs no transport.
  const { nodeReader } = await import('./node-reader.ts');
  const signal = options.deadline?.reading ?? io.signal;
  const reader = nodeReader({ ...io, signal });
  progress.show(`reading: 0 of ${plan.nodes.length} nodes done`);
  try {
    const survey = await collectSurvey(plan, {
      read: io.read ?? reader.read,
      resolve: reader.resolve,
      topics: options.topics ?? everyTopic,
      now: io.now,
      signal,
      ...(options.deadline === undefined ? {} : { cutOff: options.deadline.trouble }),
      onNode: ({ done, of }) => progress.show(`reading: ${done} of ${of} nodes done`),
    });
    if (io.signal.aborted) throw interrupted();
    return survey;
  } finally {
    progress.clear();
    reader.close();
  }
}

/** What ends a run that the operator has interrupted. */
export function interrupted(): RunFault {
  return new RunFault(exitStatuses.interrupted, ['interrupted; nothing was judged or written']);
}

/** A survey that was saved before; ends the run when it cannot be used. */
export async function savedSurvey(file: string, io: Io): Promise<Survey> {
  const read = await io.readSurveyFile(file);
  if (!read.ok) {
    throw new RunFault(exitStatuses.input, [
      `${file}: ${read.reason}; save one with hopgauge survey --out ${file}`,
    ]);
  }
  const loaded = loadSurvey(read.text, file);
  if (!loaded.ok) throw new RunFault(exitStatuses.input, [loaded.message]);
  return loaded.survey;
}
