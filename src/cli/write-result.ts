import { exitStatuses } from '../report/exit-status.ts';
import { batches } from './batches.ts';
import type { Audience, Io, Out, Text } from './io.ts';
import { RunFault } from './run-fault.ts';

/** Writes a result to the file that was named, whole or not at all, else to stdout. */
export async function writeResult(
  text: Text,
  file: string | undefined,
  io: Io,
  audience: Audience = 'everyone',
): Promise<void> {
  if (file === undefined) {
    for (const batch of batches(text)) io.stdout.write(batch);
    return;
  }
  const written = await io.writeFile(file, text, audience);
  if (!written.ok) throw notWritten(file, written.reason);
}

/** Ends the run before anything is read when its result could not be written. */
export async function requireWritable(
  file: string | undefined,
  io: Io,
  option = 'out',
): Promise<void> {
  if (file === undefined) return;
  const asked = await io.canWriteFile?.(file);
  if (asked !== undefined && !asked.ok) throw notWritten(file, asked.reason, option);
}

/** What ends a run of which a file could not be written that `--option` names. */
export function notWritten(file: string, reason: string, option = 'out'): RunFault {
  return new RunFault(exitStatuses.cannotWrite, [
    `${file}: not written: ${reason}; name another place with --${option}`,
  ]);
}

/** Columns and colour that suit where the text goes. */
export function textLook(file: string | undefined, io: Io): { width: number; colour: boolean } {
  const terminal = file === undefined && io.stdout.isTerminal;
  const plain = (io.env['NO_COLOR'] ?? '') !== '' || io.env['TERM'] === 'dumb';
  return {
    width: terminal ? widthOf(io.stdout) : widthDefault,
    colour: terminal && !plain,
  };
}

/** Columns for text that goes to an output: those of the terminal, or 80 where there is none. */
export function widthOf({ isTerminal, columns }: Out): number {
  return (isTerminal ? columns : undefined) ?? widthDefault;
}

const widthDefault = 80;
