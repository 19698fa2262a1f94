import { describe, expect, it } from 'vitest';
import { progressOn } from '../../src/cli/progress.ts';

function shown(
  out: { isTerminal: boolean; columns?: number },
  options: { quiet?: boolean; env?: Record<string, string> } = {},
): string {
  let text = '';
  const write = (more: string) => {
    text += more;
  };
  const progress = progressOn({ write, ...out }, { quiet: false, env: {}, ...options });
  progress.show('reading: 1 of 2 nodes done');
  progress.show('reading: 1 of 2 nodes done');
  progress.clear();
  progress.clear();
  return text;
}
const erase = '\r\u001b[K';

describe('progress', () => {
  const rows = [
    ['a terminal', { isTerminal: true }, {}, `${erase}reading: 1 of 2 nodes done${erase}`],
    ['a narrow one', { isTerminal: true, columns: 12 }, {}, `${erase}reading: 1 ${erase}`],
    ['a pipe', { isTerminal: false }, {}, ''],
    ['--quiet', { isTerminal: true }, { quiet: true }, ''],
    ['a dumb terminal', { isTerminal: true }, { env: { TERM: 'dumb' } }, ''],
  ] as const;
  for (const [name, out, options, expected] of rows) {
    it(`on ${name}`, () => expect(shown(out, options)).toBe(expected));
  }
});
