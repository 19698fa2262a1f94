import { execFileSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cronCommand } from '../../src/schedule/cron-command.ts';
import { oddWords } from './nightly.ts';

/** crontab(5): an unescaped percent sign ends the command; the escape of another is taken away. */
function asCronHandsOn(command: string): string {
  const [line = ''] = command.split(/(?<!\\)%/);
  return line.replaceAll('\\%', '%');
}

/** What a real `sh` makes of a command line: its words. */
function wordsOfSh(command: string): string[] {
  const print = `set -- ${command}; for each do printf '%s\\0' "$each"; done`;
  const out = execFileSync('sh', ['-c', print], { encoding: 'utf8', env: {} });
  return out.split('\0').slice(0, -1);
}

describe('a command for cron', () => {
  it('gives a real sh the words that were meant', () => {
    expect(wordsOfSh(asCronHandsOn(cronCommand(oddWords)))).toEqual(oddWords);
  });

  it('does so for any words without line breaks', () => {
    const word = fc
      .string({ minLength: 1, maxLength: 12 })
      .filter((text) => !/\p{Cc}/u.test(text) && !/\\%/.test(text));
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 20 }), (words) => {
        expect(wordsOfSh(asCronHandsOn(cronCommand(words)))).toEqual(words);
      }),
      { numRuns: 40 },
    );
  });

  it('leaves plain words as they are', () => {
    expect(cronCommand(['/usr/bin/node', '--deadline', '30m'])).toBe(
      '/usr/bin/node --deadline 30m',
    );
  });
});
