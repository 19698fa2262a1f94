import pLimit from 'p-limit';
import { isServer } from '../../history/server-place.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import type { ReportForm } from '../../report/forms.ts';
import { clean } from '../../report/layout.ts';
import { auditJob } from '../audit-job.ts';
import type { Io } from '../io.ts';
import { requireIntent, requirePolicies } from '../load-inputs.ts';
import type { AuditOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { requireWritable } from '../write-result.ts';
import { type AuditInputs, auditSite } from './audit-site.ts';

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
  const sites = await loadAll(files, io);
  for (const { site } of sites)
    for (const { file } of outputsFor(site, options)) await requireWritable(file, io);
  const job = await begin();
  // A file of history is held by one audit at a time, a server by one for each site.
  const limit = pLimit(
    options.changes === true && !isServer(options.store ?? '') ? 1 : sitesAtOnceMax,
  );
  const audits = sites.map(({ site, inputs }) =>
    limit(() =>
      oneSite(site, { ...inputs, job }, { ...options, outputs: outputsFor(site, options) }, io),
    ),
  );
  const statuses: number[] = [];
  let shown = false;
  for (const audit of audits) {
    const { status, out, err } = await audit;
    // A site that has nothing to say does not show.
    if (shown && out !== '') io.stdout.write('\n');
    shown ||= out !== '';
    io.stdout.write(out);
    io.stderr.write(err);
    statuses.push(status);
  }
  return worst(statuses);
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

interface LoadedSite {
  readonly site: string;
  readonly inputs: Omit<AuditInputs, 'job'>;
}

/** All intents before anything is read; all their faults at once. */
async function loadAll(files: readonly string[], io: Io): Promise<readonly LoadedSite[]> {
  const loaded: LoadedSite[] = [];
  const lines: string[] = [];
  const first = new Map<string, string>();
  for (const file of files) {
    try {
      const intent = await requireIntent(file, io);
      const policies = await requirePolicies(intent, io);
      const before = first.get(intent.site);
      if (before === undefined) first.set(intent.site, file);
      else
        lines.push(
          `${file}: the site '${intent.site}' is that of ${before}, too, and the history keeps sites apart by name; give each its own`,
        );
      loaded.push({ site: intent.site, inputs: { intent, policies } });
    } catch (error) {
      if (!(error instanceof RunFault)) throw error;
      lines.push(...error.lines);
    }
  }
  const words = new Map<string, string>();
  for (const { site } of loaded) {
    const same = words.get(fileWord(site));
    if (same !== undefined && same !== site)
      lines.push(`the sites '${same}' and '${site}' would write the same files; rename one`);
    words.set(fileWord(site), site);
  }
  if (lines.length > 0) throw new RunFault(exitStatuses.input, lines);
  return loaded;
}

/** Where the reports of one site go. */
function outputsFor(site: string, { outputs }: AuditOptions): AuditOptions['outputs'] {
  const word = fileWord(site);
  return outputs.map(({ form, file }) => ({
    form,
    ...(file === undefined ? {} : { file: file.replaceAll(siteMark, word) }),
  }));
}

/** The name of a site as part of the name of a file. */
function fileWord(site: string): string {
  return site.replace(/[^\p{L}\p{N}._-]+/gu, '-').replace(/^\.+/, '-');
}

interface OneSite {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

/** One site with outputs of its own, so that those of several do not mix. */
async function oneSite(
  site: string,
  inputs: AuditInputs,
  options: AuditOptions,
  io: Io,
): Promise<OneSite> {
  const said = { out: '', err: '' };
  const into = (name: 'out' | 'err') => (text: string) => {
    said[name] += text;
  };
  const own: Io = {
    ...io,
    stdout: { ...io.stdout, write: into('out') },
    // Without progress: several sites would move one line.
    stderr: { ...io.stderr, isTerminal: false, write: into('err') },
  };
  const named = () => ({
    out: said.out === '' || options.changes === true ? said.out : `${clean(site)}\n\n${said.out}`,
    err: said.err.replace(/^(?=.)/gm, `${clean(site)}: `),
  });
  try {
    const status = await auditSite(inputs, options, own);
    return { status, ...named() };
  } catch (error) {
    if (!(error instanceof RunFault) || io.signal.aborted) throw error;
    said.err += error.lines.map((line) => `${clean(line)}\n`).join('');
    return { status: error.status, ...named() };
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
