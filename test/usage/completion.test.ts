import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { completion } from '../../src/usage/completion.ts';
import { fakeRun } from '../cli/fake-io.ts';
import { ended, has, typed } from './shells.ts';
import { sketch } from './sketch.ts';

// What counts is what the shells themselves make of the scripts, at a terminal with real tab keys.

const shells = ['bash', 'zsh', 'fish'] as const;
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'hopgauge-completion-'));
  for (const name of ['saltmarsh.yaml', 'tues day.json']) writeFileSync(join(folder, name), '');
  mkdirSync(join(folder, 'pages'));
  for (const shell of shells) {
    writeFileSync(join(folder, `sketch.${shell}`), completion(shell, sketch));
  }
});

afterAll(() => rmSync(folder, { recursive: true }));

/** Keys before each tab, and how bash and zsh call the program then. */
const rows: readonly (readonly [what: string, keys: string, bash: string, zsh?: string])[] = [
  ['a command', 'hopgauge sou\t', '<sound>'],
  ['a command below a command', 'hopgauge log si\t', '<log> <sign>'],
  ['an option', 'hopgauge sound --dr\t', '<sound> <--dry>'],
  ['an option of a command below', 'hopgauge log read --du\t', '<log> <read> <--dusk>'],
  ['no option of another command', 'hopgauge log sign --dr\t', '<log> <sign> <--dr>'],
  [
    'a file with a space, as a value',
    'hopgauge sound --from tu\t',
    '<sound> <--from> <tues day.json>',
  ],
  ['a file behind =', 'hopgauge sound --from=tu\t', '<sound> <--from=tues day.json>'],
  [
    'a folder',
    'hopgauge sound --into pa\t',
    '<sound> <--into> <pages/>',
    '<sound> <--into> <pages>',
  ],
  ['no file for a folder', 'hopgauge sound --into sal\t', '<sound> <--into> <sal>'],
  ['nothing for a name', 'hopgauge sound --by sal\t', '<sound> <--by> <sal>'],
  ['an argument that is a file', 'hopgauge sound sal\t', '<sound> <saltmarsh.yaml>'],
  ['the second argument', 'hopgauge sound x fa\t', '<sound> <x> <fathom>'],
  [
    'an argument behind options',
    'hopgauge sound --dry --by x sal\t',
    '<sound> <--dry> <--by> <x> <saltmarsh.yaml>',
  ],
  [
    'a word that is a command elsewhere',
    'hopgauge sound --by log sal\t',
    '<sound> <--by> <log> <saltmarsh.yaml>',
  ],
  ['an argument that goes on', 'hopgauge log read monday tu\t', '<log> <read> <monday> <tuesday>'],
  [
    'behind an option whose value was left out',
    'hopgauge sound --tide --dr\t',
    '<sound> <--tide> <--dry>',
  ],
  ['a value that may be left out', 'hopgauge sound --tide=fl\t', '<sound> <--tide=flood>'],
  ['an option behind --', 'hopgauge sound -- --dr\t', '<sound> <--> <--dr>'],
  ['a word that bash cuts in pieces', 'hopgauge sound a:b fa\t', '<sound> <a:b> <fathom>'],
];

describe.each(['bash', 'zsh'] as const)('%s', (shell) => {
  it.skipIf(!has(shell) || !has('script'))('completes at a terminal', async () => {
    const keys = rows.map(([, line]) => line);
    const called = await typed(shell, './sketch.'.concat(shell), keys, folder);
    const wanted = rows.map(([what, , bash, zsh]) => [
      what,
      shell === 'zsh' ? (zsh ?? bash) : bash,
    ]);
    expect(rows.map(([what], at) => [what, called[at]])).toEqual(wanted);
  });
});

describe('fish', () => {
  const offers: readonly (readonly [line: string, offered: readonly string[]])[] = [
    ['hopgauge ', ['log\tthe log', "sound\tthe quay's depth: [now]"]],
    ['hopgauge log ', ['read\tread it', 'sign\tsign it']],
    ['hopgauge log read --du', ['--dusk\tto dusk']],
    ['hopgauge log sign --du', []],
    ['hopgauge sound --fro', ["--from\tthe boat's \\own: [log]"]],
    ['hopgauge sound --from tu', ['tues day.json']],
    ['hopgauge sound --into pa', ['pages/\tDirectory']],
    ['hopgauge sound --by sal', []],
    ['hopgauge sound --tide=fl', ['--tide=flood\tat that tide']],
    ['hopgauge sound sal', ['saltmarsh.yaml']],
    ['hopgauge log read mo', ['monday']],
  ];
  it.skipIf(!has('fish')).each(offers)('offers at %j', async (line, offered) => {
    const command = `source sketch.fish; complete -C ${JSON.stringify(line)}`;
    const said = await ended('fish', ['--no-config', '-c', command], folder);
    expect(
      said
        .split('\n')
        .filter((each) => each !== '')
        .sort(),
    ).toEqual(offered);
  });
});

describe('hopgauge completion', () => {
  for (const shell of shells) {
    it.skipIf(!has(shell))(`prints what ${shell} finds no fault with`, async () => {
      const fake = fakeRun();
      expect(await run(['completion', shell], fake.io)).toBe(0);
      const script = fake.stdout();
      expect([script.length > 5_000, fake.stderr(), fake.asked]).toEqual([true, '', []]);
      const file = join(folder, `whole.${shell}`);
      writeFileSync(file, script);
      expect(await ended(shell, ['-n', file], folder)).toBe('');
    });
  }

  it.skipIf(!has('script'))('completes the real command line in bash', async () => {
    const fake = fakeRun();
    await run(['completion', 'bash'], fake.io);
    writeFileSync(join(folder, 'real.bash'), fake.stdout());
    const keys = ['hopgauge aud\tsal\t--leas\twarn\t', 'hopgauge completion z\t'];
    expect(await typed('bash', './real.bash', keys, folder)).toEqual([
      '<audit> <saltmarsh.yaml> <--least> <warning>',
      '<completion> <zsh>',
    ]);
  });

  it('64 for a shell that it does not know', async () => {
    const fake = fakeRun();
    expect(await run(['completion', 'csh'], fake.io)).toBe(64);
    expect(fake.stderr()).toContain('Allowed choices are bash, zsh, fish');
  });
});
