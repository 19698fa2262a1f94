import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { namedTest } from './tools/named-test.ts';

// The tables of promises and threats in DEVELOPERS.md name tests: a table that rots is worse than none.

const guide = readFileSync('DEVELOPERS.md', 'utf8');

/** Cells of the rows of a table below a heading. */
function rowsBelow(heading: string): readonly (readonly string[])[] {
  const [, after = ''] = guide.split(`${heading}\n`);
  const [part = ''] = after.split(/^#{2,3} /m);
  const rows = part.split('\n').filter((line) => line.startsWith('|'));
  return rows.slice(2).map((line) =>
    line
      .split('|')
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
}

const promises = rowsBelow('## What is promised, and what holds it');
const threats = rowsBelow('### Whom we reckon with');

describe('what DEVELOPERS.md says is tested', () => {
  const named = [...promises, ...threats].map((cells) => ({
    what: cells.slice(0, -2).join(': '),
    file: cells.at(-2)?.replaceAll('`', '') ?? '',
    name: cells.at(-1)?.replaceAll('`', '') ?? '',
  }));

  it('has the promises and the threats', () => {
    expect(promises.length).toBeGreaterThan(20);
    expect(threats.length).toBeGreaterThan(10);
  });

  it.each(named)('$what', ({ what, file, name }) => {
    if (file === '') {
      // Said plainly where nothing holds.
      expect(what).toContain('not held');
      return;
    }
    expect(existsSync(file), file).toBe(true);
    expect(name.length).toBeGreaterThan(5);
    const test = namedTest(readFileSync(file, 'utf8'), name);
    expect(test, `${file} has no test of this name`).toBeDefined();
    expect(
      test?.marks.filter((mark) => asleep.has(mark)),
      file,
    ).toEqual([]);
    expect(test?.expects, `${file}: it expects nothing`).toBe(true);
  });
});

/** What keeps a test, or all others, from being run, or lets it fail. */
const asleep: ReadonlySet<string> = new Set(['skip', 'skipIf', 'todo', 'only', 'fails']);

describe('the look at a named test', () => {
  const told = (text: string) => namedTest(text, 'holds');

  it('finds it by its title only', () => {
    expect(told("it('holds', () => {\n  expect(1).toBe(1);\n});")?.expects).toBe(true);
    expect(told("// it('holds')\nconst text = 'holds';")).toBeUndefined();
  });

  it('finds it below its rows, or behind them', () => {
    expect(
      told("it.each(rows)(\n  '%s: holds',\n  () => {\n    expect(1);\n  },\n);")?.expects,
    ).toBe(true);
    const behind = "it.skip.each(['a', 'b'] as const)('%s holds', () => {\n  expect(1);\n});";
    expect(told(behind)?.marks).toContain('skip');
    expect(told("it.each(['holds'])('another', () => {});")).toBeUndefined();
  });

  it('sees what it expects by itself or by a function of its file', () => {
    const asks = "it('holds', () => {\n  look();\n});\nit('x', () => {\n  expect(1);\n});\n";
    expect(told(asks)?.expects).toBe(false);
    expect(told(`${asks}function look() {\n  expect(1).toBe(1);\n}\n`)?.expects).toBe(true);
    expect(told("it('holds', () => {\n  // expect(1)\n});")?.expects).toBe(false);
  });

  it('sees what keeps it from being run, around it too', () => {
    expect(told("it.skip('holds', () => {});")?.marks).toEqual(['skip']);
    expect(told("describe.only('a', () => {\n  it('holds', () => {});\n});")?.marks).toEqual([
      'only',
    ]);
    expect(told("describe.skip('a', () => {});\nit('holds', () => {});")?.marks).toEqual([]);
  });
});
