import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Insertion, unifiedPatch } from '../../src/draft/patch.ts';

/** What the system's own patch makes of it. */
function patched(source: string, insertions: readonly Insertion[]): string {
  const folder = mkdtempSync(join(tmpdir(), 'hopgauge-patch-'));
  try {
    writeFileSync(join(folder, 'hopgauge.yaml'), source);
    const input = unifiedPatch('hopgauge.yaml', source, insertions);
    if (input === '') return source;
    execFileSync('patch', ['-p0', '--quiet'], { cwd: folder, input });
    return readFileSync(join(folder, 'hopgauge.yaml'), 'utf8');
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function inserted(source: string, insertions: readonly Insertion[]): string {
  const lines = source === '' ? [] : source.replace(/\n$/, '').split('\n');
  const result: string[] = [];
  const put = (after: number) =>
    result.push(...insertions.filter((each) => each.after === after).flatMap((each) => each.lines));
  put(0);
  lines.forEach((line, at) => {
    result.push(line);
    put(at + 1);
  });
  const open = !source.endsWith('\n') && insertions.every(({ after }) => after < lines.length);
  return `${result.join('\n')}${open ? '' : '\n'}`;
}

const ten = 'abcdefghij'.split('').join('\n');

describe('a patch that only adds lines', () => {
  it('is in the unified form of POSIX diff', () => {
    expect(unifiedPatch('hopgauge.yaml', `${ten}\n`, [{ after: 5, lines: ['new'] }])).toBe(
      [
        '--- hopgauge.yaml',
        '+++ hopgauge.yaml',
        '@@ -3,6 +3,7 @@',
        ' c',
        ' d',
        ' e',
        '+new',
        ' f',
        ' g',
        ' h',
        '',
      ].join('\n'),
    );
    expect(unifiedPatch('hopgauge.yaml', ten, [])).toBe('');
  });

  it.each<[string, string, readonly Insertion[]]>([
    ['in the middle', `${ten}\n`, [{ after: 5, lines: ['one', 'two'] }]],
    ['at the start', `${ten}\n`, [{ after: 0, lines: ['one'] }]],
    ['at the end', `${ten}\n`, [{ after: 10, lines: ['one'] }]],
    ['behind a last line without its end', ten, [{ after: 10, lines: ['one'] }]],
    ['before a last line without its end', ten, [{ after: 8, lines: ['one'] }]],
    [
      'in two places near each other',
      `${ten}\n`,
      [
        { after: 3, lines: ['one'] },
        { after: 5, lines: ['two'] },
      ],
    ],
    [
      'in two places far apart',
      `${ten}\n`,
      [
        { after: 1, lines: ['one'] },
        { after: 9, lines: ['two'] },
      ],
    ],
    [
      'twice in one place',
      `${ten}\n`,
      [
        { after: 4, lines: ['one'] },
        { after: 4, lines: ['two'] },
      ],
    ],
  ])('%s: patch makes of it what was meant', (_, source, insertions) => {
    expect(patched(source, insertions)).toBe(inserted(source, insertions));
  });

  it('anywhere: patch makes of it what was meant', () => {
    const line = fc.constantFrom('a', 'b', '', '- c', '+ d', '\\ e', '@@ f');
    const places = fc.array(fc.tuple(fc.nat({ max: 12 }), line), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(fc.array(line, { minLength: 1, maxLength: 12 }), places, (lines, wanted) => {
        const source = `${lines.join('\n')}\n`;
        const insertions = wanted.map(([at, text]) => ({
          after: Math.min(at, lines.length),
          lines: [text],
        }));
        const expected = inserted(
          source,
          [...insertions].sort((a, b) => a.after - b.after),
        );
        expect(patched(source, insertions)).toBe(expected);
      }),
      { numRuns: 40 },
    );
  });
});
