import type { Place } from '../facts/subject.ts';
import { quoted } from './fault.ts';
import { absolutePath, pathFrom } from './file-path.ts';
import { type IntentFile, readIntentFile } from './intent-file.ts';
import { includeDepthMax, intentFileBytesMax, intentFilesMax } from './limits.ts';
import type { ReadTextFile } from './read-text.ts';
import type { InputFault } from './types.ts';

/** The files of an intent, the named one first, each before what it includes. */
export interface LoadedFiles {
  readonly files: readonly IntentFile[];
  /** False when a file is missing or is no YAML map: what it would have told is not known. */
  readonly complete: boolean;
  readonly faults: readonly InputFault[];
}

interface Loading {
  readonly readFile: ReadTextFile;
  readonly workingFolder: string | undefined;
  /** By absolute path: being read (a circle when met again), or read (nothing left to do). */
  readonly states: Map<string, 'open' | 'done'>;
  readonly files: IntentFile[];
  readonly faults: InputFault[];
  complete: boolean;
}

/** Reads `file` and all that it includes, one after another. */
export async function loadFiles(
  file: string,
  readFile: ReadTextFile,
  workingFolder: string | undefined,
): Promise<LoadedFiles> {
  const states = new Map<string, 'open' | 'done'>();
  const loading = { readFile, workingFolder, states, files: [], faults: [], complete: true };
  await loadFile(loading, file, []);
  return loading;
}

async function loadFile(
  loading: Loading,
  file: string,
  includedAt: readonly Place[],
): Promise<void> {
  const absolute = absolutePath(file, loading.workingFolder);
  if (loading.states.get(absolute) === 'done') return;
  const refusal = refusalOf(loading, absolute, includedAt.length);
  const place = includedAt.at(-1) ?? { file, line: 1, column: 1 };
  if (refusal !== undefined) {
    const { circle, ...fault } = refusal;
    // What stands in a circle is read all the same.
    if (!circle) loading.complete = false;
    loading.faults.push({ place, seen: quoted(file), ...fault });
    return;
  }
  loading.states.set(absolute, 'open');
  const text = await textOf(loading, absolute);
  if (!text.ok) {
    const what = `the file cannot be read: ${text.reason}`;
    const remedy = 'check its path, size and permissions';
    loading.complete = false;
    loading.faults.push({ place, what, seen: quoted(file), remedy });
  } else await addFile(loading, { file, text: text.text, includedAt });
  loading.states.set(absolute, 'done');
}

async function addFile(
  loading: Loading,
  { file, text, includedAt }: { file: string; text: string; includedAt: readonly Place[] },
): Promise<void> {
  const { parsed, faults } = readIntentFile(text, file, includedAt.length > 0);
  for (const fault of faults) loading.faults.push(fault);
  if (parsed === undefined) {
    loading.complete = false;
    return;
  }
  loading.files.push(parsed);
  if (!parsed.include.entriesComplete) loading.complete = false;
  for (const { value, spot } of parsed.include.entries) {
    await loadFile(loading, pathFrom(file, value), [...includedAt, spot.value]);
  }
}

async function textOf(loading: Loading, absolute: string): ReturnType<ReadTextFile> {
  const read = await loading.readFile(absolute);
  // Each UTF-16 unit is at least one byte of UTF-8.
  if (!read.ok || read.text.length <= intentFileBytesMax) return read;
  return { ok: false, reason: `it is longer than ${intentFileBytesMax} bytes` };
}

function refusalOf(
  { states }: Loading,
  absolute: string,
  depth: number,
): (Pick<InputFault, 'what' | 'remedy'> & { readonly circle: boolean }) | undefined {
  if (states.get(absolute) === 'open') {
    const what = 'the files include each other in a circle';
    return { circle: true, what, remedy: 'remove this include' };
  }
  if (depth > includeDepthMax) {
    const what = `includes nest more than ${includeDepthMax} deep`;
    return { circle: false, what, remedy: 'include the file further up' };
  }
  if (states.size < intentFilesMax) return undefined;
  const what = `more than ${intentFilesMax} files`;
  return { circle: false, what, remedy: 'merge some of them' };
}
