import { shellWord } from './shell-word.ts';

/**
 * A command line for crontab(5): words quoted for `sh`, and every `%` escaped, which would be the
 * end of the line; cron takes the escape away before `sh` sees it. Words without line breaks.
 */
export function cronCommand(words: readonly string[]): string {
  return words.map(shellWord).join(' ').replaceAll('%', '\\%');
}
