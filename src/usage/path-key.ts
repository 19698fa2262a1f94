import type { CommandUsage } from './types.ts';

/** The words of a command as one, for the tables of a script: `/audit`; empty for the program. */
export function pathKey({ path }: CommandUsage): string {
  return path.map((word) => `/${word}`).join('');
}
