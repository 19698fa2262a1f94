import type { Command } from 'commander';
import { exitStatuses } from '../../report/exit-status.ts';
import { type CompletedShell, completion } from '../../usage/completion.ts';
import type { Io } from '../io.ts';
import { usageOf } from '../usage-of.ts';

/** Prints the completion of a shell for the commands of `program`. */
export function printCompletion(shell: CompletedShell, program: Command, io: Io): number {
  io.stdout.write(completion(shell, usageOf(program)));
  return exitStatuses.met;
}
