import pLimit from 'p-limit';
import { isServer } from '../../history/server-place.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import type { ReportForm } from '../../report/forms.ts';
import { clean } from '../../report/layout.ts';
import type { AuditInputs } from '../audit-inputs.ts';
import { auditJob } from '../audit-job.ts';
import type { Io } from '../io.ts';
import { fileWord, loadSites } from '../load-sites.ts';
import type { AuditOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { type SiteTurn, turnsOn } from '../site-turns.ts';
import { interrupted } from '../take-survey.ts';
import { requireWritable } from '../write-result.ts';
import { auditSite } from './audit-site.ts';

/** Sites that are read and judged at one time; each has nodes of its own that are. */
export const sitesAtOnceMax = 8;

/** Forms that may follow each other on one output. */
const chained: ReadonlySet<ReportForm> = new Set(['text', 'markdown', 'jsonl']);

/** Stands in the name of a file for the site. */
const siteMark = '{site}';

/**
 * Audits several sites in one run, each by itself: a site that cannot be audited is told and keeps
 * no other from it. Reports come in the order of the intents. The exit status is that of the worst.
 */
export async function auditSites(
  files: readonly string[],
  options: AuditOptions,
  io: Io,
): Promise<number> {
  requireSense(options);
  const begin = auditJob(options, io);
  const sites = await loadSites(files, io);
  for (const { site } of sites)
    for (const { file } of outputsFor(site, options)) await requireWritable(file, io);
  const job = await begin();
  // A file of history is held by one audit at a time, a server by one for each site.
  const limit = pLimit(
    options.changes === true && !isServer(options.store ?? '') ? 1 : sitesAtOnceMax,
  );
  const turns = turnsOn(io, options);
  const audits = sites.map(({ site, inputs }) => {
    const turn = turns(site);
    const own = { ...options, outputs: outputsFor(site, options) };
    return limit(() => oneSite({ ...inputs, job }, own, io, turn).finally(turn.end));
  });
  // An interrupt fails all of them, and ends the run when each has let go of what it held.
  const ended = Promise.allSettled(audits);
  try {
    return worst(await Promise.all(audits));
  } catch (error) {
    const told = (await ended).filter(({ status }) => status === 'fulfilled').length;
    if (told === 0 || !io.signal.aborted) throw error;
    throw new RunFault(exitStatuses.interrupted, [
      `interrupted; ${told} of ${sites.length} sites were audited, and of the others nothing was judged or written`,
    ]);
  }
}

function requireSense({ outputs, survey, showCommands }: AuditOptions): void {
  const usage = (line: string) => new RunFault(exitStatuses.usage, [line]);
  if (survey !== undefined)
    throw usage('--survey is of one site, and several intents are given; give one of them');
  if (showCommands === true)
    throw usage('--show-commands is for one intent at a time; give one of them');
  for (const { form, file } of outputs) {
    if (file === undefined && !chained.has(form))
      throw usage(
        `--format ${form}: several sites do not fit into one such report; add --out with ${siteMark} in the name of the file`,
      );
    if (file !== undefined && !file.includes(siteMark))
      throw usage(
        `--out ${clean(file)}: several sites would write one file; put ${siteMark} into its name`,
      );
  }
}

/** Where the reports of one site go. */
function outputsFor(site: string, { outputs }: AuditOptions): AuditOptions['outputs'] {
  const word = fileWord(site);
  return outputs.map(({ form, file }) => ({
    form,
    ...(file === undefined ? {} : { file: file.replaceAll(siteMark, word) }),
  }));
}

/** One site with outputs of its own, so that those of several do not mix; gives its exit status. */
async function oneSite(
  inputs: AuditInputs,
  options: AuditOptions,
  io: Io,
  turn: SiteTurn,
): Promise<number> {
  try {
    // Of a site that an interrupt finds before it has begun, no history is opened.
    if (io.signal.aborted) throw interrupted();
    const status = await auditSite(inputs, options, { ...io, ...turn.outputs });
    await turn.tell();
    return status;
  } catch (error) {
    if (!(error instanceof RunFault) || io.signal.aborted) throw error;
    for (const line of error.lines) turn.outputs.stderr.write(`${clean(line)}\n`);
    await turn.tell();
    return error.status;
  }
}

/** Faults of the run come before what is broken: a site that was not audited may have worse. */
const order: readonly number[] = [
  exitStatuses.bug,
  exitStatuses.input,
  exitStatuses.cannotWrite,
  exitStatuses.storeLocked,
  exitStatuses.broken,
  exitStatuses.undetermined,
];

function worst(statuses: readonly number[]): number {
  return (
    order.find((status) => statuses.includes(status)) ??
    statuses.find((status) => status !== exitStatuses.met) ??
    exitStatuses.met
  );
}
