import { loadIntent } from '../../src/intent/load-intent.ts';
import type { ReadTextFile } from '../../src/intent/read-text.ts';
import type { Intent, Loaded } from '../../src/intent/types.ts';
import { shippedPolicies } from './example.ts';

/** A reader of files that are only in memory. */
export function memoryReader(files: Readonly<Record<string, string>>): ReadTextFile {
  return async (path) => {
    const text = Object.hasOwn(files, path) ? files[path] : undefined;
    return text === undefined ? { ok: false, reason: 'no such file' } : { ok: true, text };
  };
}

/** Loads `file` of `files`, in a working folder `/net`. */
export function loadFrom(
  files: Readonly<Record<string, string>>,
  file = 'site.yaml',
): Promise<Loaded<Intent>> {
  const absolute = Object.entries(files).map(([name, text]) => [`/net/${name}`, text]);
  const reader = memoryReader(Object.fromEntries(absolute));
  return loadIntent(file, reader, { shippedPolicies, workingFolder: '/net' });
}
