import { planSurvey } from '../../collect/plan.ts';
import type { Intent } from '../../intent/types.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { auditJob } from '../audit-job.ts';
import type { Io } from '../io.ts';
import { requireIntent, requirePolicies } from '../load-inputs.ts';
import { collectedWords, nightlyPaths, nightlyWords } from '../nightly-words.ts';
import type { AuditOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { showCommands } from '../show-commands.ts';
import { requireWritable } from '../write-result.ts';
import { auditSite } from './audit-site.ts';

/** Reads the nodes of an intent, or of several, judges them and reports; gives the exit status. */
export async function audit(
  files: readonly string[],
  options: AuditOptions,
  io: Io,
): Promise<number> {
  requireSense(options);
  const [file = options.intent, ...more] = files;
  if (more.length > 0) {
    if (options.intent !== undefined)
      throw new RunFault(exitStatuses.usage, [
        '--intent is one intent, and several are given without it; name all of them, or leave them out',
      ]);
    const { auditSites } = await import('./audit-sites.ts');
    return auditSites(files, options, io);
  }
  const begin = auditJob(options, io);
  const intent = await requireIntent(file, io);
  // Before anything is read: a misspelt rule must not cost a round through the site.
  const policies = await requirePolicies(intent, io);
  if (options.showCommands === true) return showAll(intent, options, io);
  for (const { file } of options.outputs) await requireWritable(file, io);
  const job = await begin();
  return auditSite({ intent, policies, job }, options, io);
}

async function showAll(intent: Intent, options: AuditOptions, io: Io): Promise<number> {
  if (options.collect === true) {
    const more = collectedWords(nightlyPaths(intent), options.store);
    return showCommands(planSurvey(intent), io, more.length === 0 ? [] : ['', ...more]);
  }
  const [{ fitCommands }, { windowsFitCommands }] = await Promise.all([
    import('../../probe/fit-commands.ts'),
    import('../../probe/windows-fit-script.ts'),
  ]);
  const more = nightlyWords(intent, [...fitCommands, ...windowsFitCommands]);
  return showCommands(planSurvey(intent), io, more);
}

function requireSense({ changes, all, store, survey, collect }: AuditOptions): void {
  const without = (option: string) =>
    new RunFault(exitStatuses.usage, [`${option} has no use without --changes; add it`]);
  if (changes === true && survey !== undefined) {
    throw new RunFault(exitStatuses.usage, [
      '--changes keeps what was read tonight, and a saved survey was not: leave one of the two out',
    ]);
  }
  if (changes !== true && all === true) throw without('--all');
  if (changes !== true && collect !== true && store !== undefined) throw without('--store');
  if (collect === true && survey !== undefined) {
    throw new RunFault(exitStatuses.usage, [
      '--collect has the nodes read, and --survey reads nothing: leave one of the two out',
    ]);
  }
}
