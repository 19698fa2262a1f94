import { planSurvey } from '../collect/plan.ts';
import { withProofs } from '../facts/newest-proofs.ts';
import type { Survey } from '../facts/survey.ts';
import { topicsOf } from '../judge/topics-of.ts';
import type { HeldInputs } from './audit-inputs.ts';
import type { Io } from './io.ts';
import { nightlyFits, unprovenPaths } from './nightly-fits.ts';
import { collectedWords } from './nightly-words.ts';
import type { AuditOptions } from './options.ts';
import { interrupted, savedSurvey, takeSurvey } from './take-survey.ts';

/** What is read tonight, with what active tests have shown before and show now. */
export async function surveyForAudit(
  { intent, policies, job, history }: HeldInputs,
  options: AuditOptions,
  io: Io,
): Promise<Survey> {
  if (options.survey !== undefined) return savedSurvey(options.survey, io);
  const topics = topicsOf(policies);
  const { deadline } = job;
  const quiet = options.quiet === true;
  const known = history?.proofs ?? { fits: [], transfers: [] };
  if (options.collect === true) {
    const { collectElsewhere } = await import('./collect-elsewhere.ts');
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
