import type { Asked } from '../change/asked.ts';
import { loadChange } from '../change/load-change.ts';
import { askedByIntent } from '../change/second-intent.ts';
import type { Intent } from '../intent/types.ts';
import { exitStatuses } from '../report/exit-status.ts';
import type { Io } from './io.ts';
import { inputFault, requireIntent } from './load-inputs.ts';
import { RunFault } from './run-fault.ts';

const secondIntent = /^(?:\s*(?:#.*)?\n|---\s*\n)*intent\s*:/;

/** A change file, or a second intent: what the first key is tells which. */
export async function requireChange(file: string, intent: Intent, io: Io): Promise<Asked> {
  const read = await io.readTextFile(file);
  if (!read.ok)
    throw new RunFault(exitStatuses.input, [`${file}: ${read.reason}; name a change file`]);
  if (secondIntent.test(read.text)) return askedByIntent(intent, await requireIntent(file, io));
  const loaded = loadChange(read.text, file, intent);
  if (!loaded.ok) throw inputFault(loaded.faults);
  return loaded.value;
}
