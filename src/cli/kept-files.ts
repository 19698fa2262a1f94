import type { KeptRehearsal } from '../change/kept.ts';
import { absolutePath } from '../intent/file-path.ts';
import type { Io } from './io.ts';

/** Reads files of the operator's and notes their texts, by absolute path. */
export function notingFiles(io: Io): { readonly io: Io; readonly files: Map<string, string> } {
  const files = new Map<string, string>();
  const readTextFile: Io['readTextFile'] = async (path) => {
    const read = await io.readTextFile(path);
    if (read.ok) files.set(absolutePath(path, io.workingFolder), read.text);
    return read;
  };
  return { io: { ...io, readTextFile }, files };
}

/** A process that finds the texts of a kept rehearsal where their files were, and nothing else. */
export function keptIo(kept: KeptRehearsal, io: Io): Io {
  const { workingFolder: _, ...rest } = io;
  const { workingFolder } = kept;
  const files = new Map(Object.entries(kept.files));
  return {
    ...rest,
    ...(workingFolder === undefined ? {} : { workingFolder }),
    readTextFile: async (path) => {
      const text = files.get(absolutePath(path, workingFolder));
      return text === undefined ? { ok: false, reason: 'it was not kept' } : { ok: true, text };
    },
  };
}
