import { buildAccess } from './build-access.ts';
import { sortFaults } from './fault.ts';
import { joinFiles } from './intent-file.ts';
import { loadFiles } from './load-files.ts';
import type { ReadTextFile } from './read-text.ts';
import type { Access, InputFault, Loaded } from './types.ts';

/**
 * The accesses of an intent file, or of one that has nothing but `access:`, by their names; with
 * what is built in. All faults at once.
 */
export async function loadAccess(
  file: string,
  readFile: ReadTextFile,
  workingFolder?: string,
): Promise<Loaded<ReadonlyMap<string, readonly Access[]>>> {
  const { files, complete, faults } = await loadFiles(file, readFile, workingFolder);
  const found: InputFault[] = [...faults];
  const { byName } = buildAccess(joinFiles(files, complete).access, found, false);
  return found.length > 0 ? { ok: false, faults: sortFaults(found) } : { ok: true, value: byName };
}
