import { bashCompletion } from './bash-completion.ts';
import { fishCompletion } from './fish-completion.ts';
import type { ProgramUsage } from './types.ts';
import { zshCompletion } from './zsh-completion.ts';

const scripts = {
  bash: bashCompletion,
  zsh: zshCompletion,
  fish: fishCompletion,
} satisfies Record<CompletedShell, (usage: ProgramUsage) => string>;

/** A shell that completes the command line. */
export type CompletedShell = 'bash' | 'zsh' | 'fish';

/** The script that teaches a shell to complete the command line. */
export function completion(shell: CompletedShell, usage: ProgramUsage): string {
  return scripts[shell](usage);
}
