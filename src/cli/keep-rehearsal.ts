import { dirname } from 'node:path';
import { type KeptRehearsal, keptText, loadKept } from '../change/kept.ts';
import { rehearsedPath } from '../history/rehearsed-path.ts';
import { absolutePath } from '../intent/file-path.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import { timeWords } from '../report/summary-line.ts';
import { shellWord } from '../schedule/shell-word.ts';
import type { Io, Written } from './io.ts';
import { defaultIntentFile } from './load-inputs.ts';
import { RunFault } from './run-fault.ts';

/** Where the rehearsal of a change is kept when no place is named. */
export function keptPlace(change: string, intent: string | undefined, io: Io): string {
  const absolute = (file: string) => absolutePath(file, io.workingFolder);
  return rehearsedPath(io.env, io.own.home, {
    change: absolute(change),
    intent: absolute(intent ?? defaultIntentFile),
  });
}

/** The command that confirms a change, to be typed where it was rehearsed. */
export function confirmCommand(
  change: string,
  { intent, keep }: { readonly intent?: string; readonly keep?: string },
): string {
  const option = (name: string, file: string | undefined) =>
    file === undefined ? '' : ` --${name} ${shellWord(file)}`;
  return `hopgauge confirm ${shellWord(change)}${option('intent', intent)}${option('kept', keep)}`;
}

/**
 * Keeps a rehearsal in the state folder, whole or not at all, readable by its owner alone. Where
 * steps of one that it replaces are no longer to be done, that one is put aside under its time: it
 * alone knows the state before them. Says on stderr what became of it, and what went wrong.
 */
export async function keepByDefault(kept: KeptRehearsal, file: string, io: Io): Promise<Written> {
  await io.makeFolder?.(dirname(file));
  const before = await earlier(file, io);
  if (before !== undefined) {
    const aside = before.order.every((id) => kept.order.includes(id))
      ? ''
      : await putAside(before, file, io);
    say(io, `this replaces the rehearsal of ${timeWords(before.rehearsedAt)}${aside}`);
  }
  const written = await io.writeFile(file, keptText(kept), 'owner');
  if (!written.ok)
    say(
      io,
      `this rehearsal was not kept, and cannot be confirmed: ${file}: ${written.reason}; name another place with --keep`,
    );
  return written;
}

async function putAside(before: KeptRehearsal, file: string, io: Io): Promise<string> {
  const time = before.rehearsedAt.replaceAll(/[-:]|\.\d+/g, '');
  const aside = file.replace(/\.json$/, `.${time}.json`);
  const moved = await io.writeFile(aside, keptText(before), 'owner');
  return moved.ok
    ? `, of which steps are done or gone; that one is in ${aside} now, for confirm --kept`
    : `, which could not be put aside: ${moved.reason}`;
}

/** Keeps a rehearsal where the operator said. */
export async function keepWhereSaid(kept: KeptRehearsal, file: string, io: Io): Promise<Written> {
  const before = await earlier(file, io);
  if (before !== undefined)
    say(io, `${file}: this replaces the rehearsal of ${timeWords(before.rehearsedAt)}`);
  return io.writeFile(file, keptText(kept), 'owner');
}

async function earlier(file: string, io: Io): Promise<KeptRehearsal | undefined> {
  const read = await io.readSurveyFile(file);
  const loaded = read.ok ? loadKept(read.text, file) : undefined;
  return loaded?.ok === true ? loaded.kept : undefined;
}

/** The rehearsal that was kept of a change; ends the run where there is none that can be used. */
export async function requireKept(
  change: string,
  { intent, kept }: { readonly intent?: string; readonly kept?: string },
  io: Io,
): Promise<KeptRehearsal> {
  const file = kept ?? keptPlace(change, intent, io);
  const read = await io.readSurveyFile(file);
  if (!read.ok) {
    const what =
      kept === undefined
        ? `no rehearsal of ${change} is kept: ${file}: ${read.reason}`
        : `${file}: ${read.reason}`;
    throw new RunFault(exitStatuses.input, [
      `${what}; before the change run hopgauge rehearse ${shellWord(change)}, with the same --intent; or name what rehearse --keep wrote with --kept`,
    ]);
  }
  const loaded = loadKept(read.text, file);
  if (!loaded.ok) throw new RunFault(exitStatuses.input, [loaded.message]);
  return loaded.kept;
}

/** A line beside the result. */
export function say(io: Io, words: string): void {
  io.stderr.write(`${clean(words)}\n`);
}
