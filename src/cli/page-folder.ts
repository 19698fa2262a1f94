import { readdir, readFile, rm, rmdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { parseJson, stableJson } from '../facts/json.ts';
import { makeFolder } from '../files/make-folder.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import { RunFault } from './run-fault.ts';
import { writeFileWhole } from './write-file.ts';
import { notWritten } from './write-result.ts';

/** Names the files in a folder of pages that hopgauge wrote, and only these does it ever touch. */
export const manifestFile = 'hopgauge-pages.json';

/** Pages of one folder at most: 200 sites of 10,000 nodes are more than one disk of a web server is for. */
const filesMax = 2_000_000;
/** A name that hopgauge gives a page; whatever else a manifest names is not touched. */
const ownName = /^(site-[\w.~-]+\/)?(index|node-[\w.~-]+)\.html$/;

const schema = z.strictObject({
  pages: z.literal(1),
  files: z.array(z.string().regex(ownName)).max(filesMax),
});

/** What became of the pages of one run. */
export interface FolderOutcome {
  readonly written: number;
  readonly same: number;
  readonly removed: number;
}

/** A folder of pages while it is written. */
export interface PageFolder {
  /** Writes a page, whole or not at all, where what stands there differs. */
  readonly put: (name: string, text: string) => Promise<void>;
  /** Takes out the pages of before that are none of now, and lists those of now. */
  readonly close: () => Promise<FolderOutcome>;
}

/**
 * Begins to write the pages with these `names` into a folder, which is made where it is not there.
 * The list of what is ours is written first, so that a run that is killed leaves no stranger behind;
 * a file of such a name that is not on the list is somebody else's and ends the run.
 */
export async function openPageFolder(
  folder: string,
  names: readonly string[],
): Promise<PageFolder> {
  const path = (name: string) => join(folder, name);
  const before = await manifestOf(folder);
  const known = new Set(before);
  const now = new Set(names);
  await guarded(folder, async () => makeFolder(folder));
  await requireOurs(folder, names, known);
  const folders = new Set(names.map((name) => dirname(path(name))));
  for (const each of folders) await guarded(each, async () => makeFolder(each));
  await writeManifest(folder, new Set([...before, ...names]));
  const counts = { written: 0, same: 0, removed: 0 };
  return {
    put: async (name, text) => {
      if ((await readFile(path(name), 'utf8').catch(() => undefined)) === text) {
        counts.same += 1;
        return;
      }
      await write(path(name), text);
      counts.written += 1;
    },
    close: async () => {
      for (const name of before) {
        if (now.has(name)) continue;
        await guarded(path(name), () => rm(path(name), { force: true }));
        counts.removed += 1;
        // A folder of a site that is gone goes with its last page; any other stays.
        if (name.includes('/')) await rmdir(dirname(path(name))).catch(() => {});
      }
      await writeManifest(folder, now);
      return counts;
    },
  };
}

async function manifestOf(folder: string): Promise<readonly string[]> {
  const file = join(folder, manifestFile);
  const text = await readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw notWritten(file, `it cannot be read (${error.code})`);
  });
  if (text === undefined) return [];
  try {
    return schema.parse(parseJson(text)).files;
  } catch {
    throw new RunFault(exitStatuses.cannotWrite, [
      clean(
        `${file}: it is no list of pages of hopgauge; remove it together with the pages, or name another folder with --out`,
      ),
    ]);
  }
}

/** Looked up folder by folder: one question for thousands of pages. */
async function requireOurs(
  folder: string,
  names: readonly string[],
  known: ReadonlySet<string>,
): Promise<void> {
  const there = new Map<string, ReadonlySet<string>>();
  for (const name of names) {
    const at = dirname(join(folder, name));
    const files = there.get(at) ?? new Set(await readdir(at).catch(() => []));
    there.set(at, files);
    if (known.has(name) || !files.has(name.slice(name.lastIndexOf('/') + 1))) continue;
    throw new RunFault(exitStatuses.cannotWrite, [
      clean(
        `${join(folder, name)}: it is there already and hopgauge page did not write it; move it away, or name another folder with --out`,
      ),
    ]);
  }
}

async function writeManifest(folder: string, files: ReadonlySet<string>): Promise<void> {
  const text = stableJson({ pages: 1, files: [...files].sort() });
  const file = join(folder, manifestFile);
  if ((await readFile(file, 'utf8').catch(() => undefined)) !== text) await write(file, text);
}

/** Thousands of pages need not be on the disk one by one: the history has it all. */
async function write(file: string, text: string): Promise<void> {
  const written = await writeFileWhole(file, text, 'everyone', { flush: false });
  if (!written.ok) throw notWritten(clean(file), written.reason);
}

async function guarded(file: string, work: () => Promise<unknown>): Promise<void> {
  try {
    await work();
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'error';
    throw notWritten(clean(file), code);
  }
}
