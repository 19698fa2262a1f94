import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

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
    expect(readFileSync(file, 'utf8')).toContain(name);
  });
});
