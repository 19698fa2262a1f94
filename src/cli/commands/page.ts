import { resolve } from 'node:path';
import pLimit from 'p-limit';
import type { Database } from '../../history/database.ts';
import { readLatest } from '../../history/latest-audit.ts';
import { openStore } from '../../history/open-store.ts';
import { readPast } from '../../history/read-past.ts';
import { readSitePast } from '../../history/read-site-past.ts';
import { readSites } from '../../history/read-timeline.ts';
import { storeWords } from '../../history/store-place.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { clean } from '../../report/layout.ts';
import type { LastReadOf } from '../../report/page/folder/node-page.ts';
import { indexFile, type PageFile, sitePages } from '../../report/page/folder/site-pages.ts';
import { type SiteEntry, siteEntry, sitesPage } from '../../report/page/folder/sites-page.ts';
import { siteFolder } from '../../report/page/fragments.ts';
import { pagePast } from '../../report/page/past/page-past.ts';
import { redactKept } from '../../report/redact.ts';
import type { AuditResult } from '../../report/types.ts';
import { inStore, storePlace } from '../history-of.ts';
import type { Io } from '../io.ts';
import { keptAudit, lastValues } from '../kept-audit.ts';
import { hasDefaultIntent, requireIntent } from '../load-inputs.ts';
import type { PageOptions } from '../options.ts';
import { openPageFolder, type PageFolder } from '../page-folder.ts';
import { RunFault } from '../run-fault.ts';
import { interrupted } from '../take-survey.ts';

/** Writes the latest audit that the history has as pages into a folder; gives the exit status. */
export async function page(options: PageOptions, io: Io): Promise<number> {
  const wanted = await wantedSites(options, io);
  const place = await storePlace(options.store, io);
  const file = storeWords(place);
  const folder = resolve(io.workingFolder ?? '.', options.out);
  return inStore(place, async () => {
    const database = await openStore(place, { existing: true });
    try {
      const names = await sitesIn(database, wanted);
      const outcome = await (names.length === 1
        ? writeOne(database, names[0] ?? '', { folder, options, io, file })
        : writeMany(database, names, { folder, options, io, file }));
      if (options.quiet !== true) io.stderr.write(`${clean(outcome)}\n`);
      return exitStatuses.met;
    } finally {
      await database.close();
    }
  });
}

/** Sites that the command line names; empty: it leaves that to the store. */
async function wantedSites(options: PageOptions, io: Io): Promise<readonly string[]> {
  const { intent, site } = options;
  if (intent.length === 0 && site.length === 0)
    return (await hasDefaultIntent(io)) ? [(await requireIntent(undefined, io)).site] : [];
  const names: string[] = [];
  for (const file of intent) names.push((await requireIntent(file, io)).site);
  return [...new Set([...names, ...site])];
}

async function sitesIn(database: Database, wanted: readonly string[]): Promise<readonly string[]> {
  const sites = await readSites(database);
  const strange = wanted.find((name) => !sites.includes(name));
  const names = wanted.length === 0 ? sites : wanted;
  if (strange === undefined && names.length > 0) return names;
  const there = sites.length === 0 ? 'it has none' : `it has ${sites.join(', ')}`;
  throw new RunFault(exitStatuses.usage, [
    clean(
      strange === undefined
        ? 'the history has no site; run hopgauge audit --changes once'
        : `the history knows no site '${strange}'; ${there}`,
    ),
  ]);
}

interface Job {
  readonly folder: string;
  readonly options: PageOptions;
  readonly io: Io;
  /** Of the store. */
  readonly file: string;
}

async function writeOne(database: Database, name: string, job: Job): Promise<string> {
  const { result, lastReadOf } = await latestOf(database, name, job);
  const pages = sitePages(result, lastReadOf);
  const folder = await openPageFolder(
    job.folder,
    pages.map((each) => each.name),
  );
  await putAll(folder, pages, '', job.io);
  return outcomeWords(job.folder, await folder.close());
}

/** A site at a time, so that no two of them are in memory together. */
async function writeMany(database: Database, names: readonly string[], job: Job): Promise<string> {
  const entries: SiteEntry[] = [];
  const files: string[] = [];
  for (const name of names) {
    const { result, lastReadOf } = await latestOf(database, name, job);
    const at = `${siteFolder(result.site.intent.site)}/`;
    files.push(...sitePages(result, lastReadOf).map((each) => at + each.name));
  }
  const folder = await openPageFolder(job.folder, [...files, indexFile]);
  for (const name of names) {
    const { result, lastReadOf } = await latestOf(database, name, job);
    const at = `${siteFolder(result.site.intent.site)}/`;
    await putAll(folder, sitePages(result, lastReadOf), at, job.io);
    entries.push(siteEntry(result, at + indexFile));
  }
  await folder.put(indexFile, sitesPage(entries));
  return outcomeWords(job.folder, await folder.close());
}

/** Pages in hand at once: one is made while another is written. More only fill the memory. */
const writesAtOnce = 2;

async function putAll(
  folder: PageFolder,
  pages: readonly PageFile[],
  at: string,
  io: Io,
): Promise<void> {
  const limit = pLimit(writesAtOnce);
  const put = async ({ name, text }: PageFile) => {
    if (io.signal.aborted) throw interrupted();
    await folder.put(at + name, text());
  };
  // The first page is the last of the list, and waits for those that it leads to.
  await Promise.all(pages.slice(0, -1).map((each) => limit(() => put(each))));
  for (const last of pages.slice(-1)) await put(last);
}

interface Latest {
  readonly result: AuditResult;
  readonly lastReadOf: LastReadOf;
}

async function latestOf(database: Database, name: string, { options, file }: Job): Promise<Latest> {
  const kept = await readLatest(database, name);
  if (kept === undefined)
    throw new RunFault(exitStatuses.input, [
      clean(
        `${file}: the latest audit of ${name} was kept by an earlier hopgauge, without what pages need; run hopgauge audit --changes once more`,
      ),
    ]);
  const { known } = await readPast(database, name);
  const past = pagePast(await readSitePast(database, name), lastValues(known));
  const result: AuditResult = { ...keptAudit(kept, known), past };
  const seen = [...known].map(([node, { seenAt }]) => [node, seenAt] as const);
  if (options.redact !== true) return { result, lastReadOf: lookUp(seen) };
  const { shown, hide } = redactKept(
    result,
    seen.map(([node]) => node),
  );
  return {
    result: shown,
    lastReadOf: lookUp(seen.map(([node, seenAt]) => [hide(node), seenAt] as const)),
  };
}

function lookUp(seen: readonly (readonly [string, string])[]): LastReadOf {
  const times = new Map(seen);
  return (node) => times.get(node);
}

function outcomeWords(
  folder: string,
  { written, same, removed }: Awaited<ReturnType<PageFolder['close']>>,
): string {
  const gone = removed === 0 ? '' : `, ${removed} of what is gone removed`;
  return `${folder}: ${written} ${written === 1 ? 'page' : 'pages'} written, ${same} unchanged${gone}`;
}
