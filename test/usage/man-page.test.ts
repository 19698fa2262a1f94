import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeProgram } from '../../src/cli/program.ts';
import { usageOf } from '../../src/cli/usage-of.ts';
import { manPage } from '../../src/usage/man-page.ts';
import { fakeRun } from '../cli/fake-io.ts';
import { shippedManPage } from '../tools/shipped-man-page.ts';
import { ended, has } from './shells.ts';
import { sketch } from './sketch.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'hopgauge-man-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const changes = readFileSync(resolve(import.meta.dirname, '../../CHANGELOG.md'), 'utf8');
const pages: readonly (readonly [name: string, page: string])[] = [
  ['that ships', shippedManPage(changes)],
  [
    'of the sketch',
    manPage(sketch, { version: '0.0.1', date: '2026-11-26', title: 'sound depths' }),
  ],
];

function kept(page: string): string {
  const file = join(folder, 'hopgauge.1');
  writeFileSync(file, page);
  return file;
}

describe.each(pages)('the page %s', (_name, page) => {
  // All warnings of groff but those about lines that a terminal is too narrow for.
  it.skipIf(!has('groff'))('has nothing that groff warns of', async () => {
    const said = await ended(
      'groff',
      ['-ww', '-Wbreak', '-man', '-Tutf8', '-z', kept(page)],
      folder,
    );
    expect(said).toBe('');
  });

  it.skipIf(!has('mandoc'))('has nothing that mandoc warns of', async () => {
    expect(await ended('mandoc', ['-Tlint', '-Wwarning', kept(page)], folder)).toBe('');
  });
});

describe('the page that ships', () => {
  it.skipIf(!has('mandoc'))(
    'shows every command, option and line of help as the help does',
    async () => {
      const page = shippedManPage(changes);
      const shown = await ended('mandoc', ['-Tutf8', '-Owidth=200', kept(page)], folder);
      const text = words(shown.replace(/.\u0008/g, ''));
      const { commands } = usageOf(makeProgram(fakeRun({ columns: 80 }).io, () => {}));
      expect(commands.length).toBeGreaterThan(10);
      const wanted = commands.flatMap(({ about, after, arguments: given, options }) => [
        about,
        ...given.map((argument) => argument.about),
        ...options.flatMap(({ flags, aboutWhole }) => [flags, aboutWhole]),
        // The program's own exit status has a section of its own, under that heading.
        ...after.split('\n').map((line) => line.replace(/^Exit status: (?=0 judged)/, '')),
      ]);
      expect(wanted.map(words).filter((each) => !text.includes(each))).toEqual([]);
    },
  );

  it('bears the version and the date of the list of changes', () => {
    expect(shippedManPage(changes)).toMatch(
      /^\.TH HOPGAUGE 1 "\d{4}-\d{2}-\d{2}" "hopgauge \d+\.\d+\.\d+"/m,
    );
    expect(() => shippedManPage('# Changes\n')).toThrow(/CHANGELOG\.md: says nothing of /);
  });
});

function words(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}
