import { Argument, type Command } from 'commander';
import type { CompletedShell } from '../usage/completion.ts';
import type { Io } from './io.ts';
import type { SetStatus } from './program.ts';

const shells = ['bash', 'zsh', 'fish'] as const satisfies readonly CompletedShell[];

/** The command that prints what a shell needs to complete the others. */
export function addCompletion(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('completion')
    .description('print what a shell needs to complete this command line')
    .addArgument(new Argument('<SHELL>', 'the shell').choices(shells))
    .addHelpText('after', examples)
    .action(async (shell: CompletedShell) => {
      const { printCompletion } = await import('./commands/completion.ts');
      setStatus(printCompletion(shell, program, io));
    });
}

const examples = `
Examples:
  hopgauge completion bash > ~/.local/share/bash-completion/completions/hopgauge
  source <(hopgauge completion bash)                in ~/.bashrc; bash 4 or newer
  source <(hopgauge completion zsh)                 in ~/.zshrc, after compinit
  hopgauge completion fish > ~/.config/fish/completions/hopgauge.fish

It installs nothing. After an update of hopgauge a file made so is to be made again.`;
