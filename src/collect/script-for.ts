import type { HostScript, ShellKind } from './types.ts';

/** The text of a script for one shell. */
export function scriptFor(script: HostScript, shell: ShellKind): string {
  return typeof script === 'string' ? script : script(shell);
}
