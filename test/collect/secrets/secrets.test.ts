import { execFileSync } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import { format, inspect } from 'node:util';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { askOnTerminal } from '../../../src/collect/secrets/ask-on-terminal.ts';
import { makeFindSecret, type SecretPlaces } from '../../../src/collect/secrets/find-secret.ts';
import { makeSecret } from '../../../src/collect/secrets/secret.ts';
import {
  defaultSecretsPath,
  parseSecrets,
  readSecretsFile,
} from '../../../src/collect/secrets/secrets-file.ts';

const canary = 'canary-77-ebb';
const ownerId = process.getuid?.() ?? 0;

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'hopgauge-secrets-'));
  file = join(folder, 'secrets');
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe('a secret', () => {
  const secret = makeSecret(canary);
  it('reveals itself when asked', () => {
    expect(secret.reveal()).toBe(canary);
  });

  it.each([
    ['in a template', () => `${secret}`],
    ['joined', () => ['a', secret].join()],
    ['added', () => `${'x'}${String(secret)}`],
    ['as JSON', () => JSON.stringify({ secret })],
    ['inspected', () => inspect({ secret }, { depth: 9, showHidden: true })],
    ['formatted', () => format('%s %o %O %j', secret, secret, secret, secret)],
    ['as an error', () => String(new Error(`no login with ${secret}`))],
    [
      'by its parts',
      () => JSON.stringify(Object.entries(Object.getOwnPropertyDescriptors(secret))),
    ],
    ['as its source', () => String(secret.reveal)],
    ['copied', () => JSON.stringify({ ...secret })],
  ])('shows nothing of itself %s', (_how, show) => {
    expect(show()).not.toContain(canary);
  });

  it('shows a mask instead', () => {
    expect([`${secret}`, JSON.stringify(secret), inspect(secret)]).toEqual([
      '[secret]',
      '"[secret]"',
      '[secret]',
    ]);
  });
});

describe('parseSecrets', () => {
  it('takes values as they are', () => {
    const text = '\ufeff# ours\n\nA=one\r\nB= two = 2 \nC="three"\n  # indented\nD.e-f_1=é\n';
    const read = parseSecrets('s', text);
    const values = read.ok
      ? [...read.secrets].map(([name, secret]) => [name, secret.reveal()])
      : [];
    expect(values).toEqual([
      ['A', 'one'],
      ['B', ' two = 2 '],
      ['C', '"three"'],
      ['D.e-f_1', 'é'],
    ]);
  });

  it.each([
    ['no equals sign', `A=1\n${canary}\n`, 's:2: not a line of the form NAME=value'],
    ['no name', `=${canary}`, 's:1: not a line of the form NAME=value'],
    ['no value', 'A=', 's:1: not a line of the form NAME=value'],
    ['a blank in the name', `A B=${canary}`, 's:1: not a line of the form NAME=value'],
    ['a name twice', `A=1\nA=${canary}`, 's:2: A is given a second time'],
  ])('refuses %s, by its line and not its text', (_name, text, refusal) => {
    expect(parseSecrets('s', text)).toEqual({ ok: false, refusal });
  });
});

describe('readSecretsFile', () => {
  it.each([0o600, 0o400])('reads a file of mode %o', async (mode) => {
    writeFileSync(file, 'A=1\n');
    chmodSync(file, mode);
    const read = await readSecretsFile(file, ownerId);
    expect(read.ok && read.secrets.get('A')?.reveal()).toBe('1');
  });

  it.each([
    [0o644, '0644'],
    [0o640, '0640'],
    [0o660, '0660'],
    [0o602, '0602'],
    [0o610, '0610'],
    [0o777, '0777'],
  ])('refuses a file of mode %o with the remedy', async (mode, shown) => {
    writeFileSync(file, `A=${canary}\n`);
    chmodSync(file, mode);
    expect(await readSecretsFile(file, ownerId)).toEqual({
      ok: false,
      refusal: `${file}: mode ${shown} lets others at the secrets; run: chmod 600 ${file}`,
    });
  });

  it('refuses a file of another account', async () => {
    writeFileSync(file, 'A=1\n', { mode: 0o600 });
    expect(await readSecretsFile(file, ownerId + 1)).toEqual({
      ok: false,
      refusal: `${file}: owned by user id ${ownerId}, not by you; make a file of your own`,
    });
  });

  it('judges the file that a symbolic link leads to', async () => {
    writeFileSync(file, 'A=1\n', { mode: 0o644 });
    symlinkSync(file, `${file}-link`);
    expect((await readSecretsFile(`${file}-link`, ownerId)).ok).toBe(false);
  });

  it('has no secrets where there is no file', async () => {
    expect(await readSecretsFile(file, ownerId)).toEqual({ ok: true, secrets: new Map() });
  });

  it('refuses what is no file, and does not wait for it', async () => {
    execFileSync('mkfifo', ['-m', '600', file]);
    for (const path of [file, folder]) {
      const refusal = `${path}: not a regular file; give the path of a file`;
      expect(await readSecretsFile(path, ownerId)).toEqual({ ok: false, refusal });
    }
  });

  it('refuses a file that is too large', async () => {
    writeFileSync(file, 'A=1\n'.repeat(70_000), { mode: 0o600 });
    expect(await readSecretsFile(file, ownerId)).toMatchObject({
      ok: false,
      refusal: `${file}: 280000 bytes; a secrets file has at most 262144`,
    });
  });
});

describe('defaultSecretsPath', () => {
  it.each([
    [{}, '/home/me/.config/hopgauge/secrets'],
    [{ XDG_CONFIG_HOME: '/cfg' }, '/cfg/hopgauge/secrets'],
    [{ XDG_CONFIG_HOME: '' }, '/home/me/.config/hopgauge/secrets'],
    // XDG Base Directory Specification: "All paths set in these environment variables must be
    // absolute. If ... relative ... it should ... ignore it."
    [{ XDG_CONFIG_HOME: 'cfg' }, '/home/me/.config/hopgauge/secrets'],
  ])('%j', (env, path) => {
    expect(defaultSecretsPath(env, '/home/me')).toBe(path);
  });
});

describe('makeFindSecret', () => {
  const refusals: string[] = [];
  const asked: string[] = [];
  beforeEach(() => {
    refusals.length = 0;
    asked.length = 0;
  });
  const places = (more: Partial<SecretPlaces> = {}): SecretPlaces => ({
    env: {},
    file,
    ownerId,
    onRefusal: (refusal) => refusals.push(refusal),
    ...more,
  });
  const ask = async (question: string) => {
    asked.push(question);
    return makeSecret('from a person');
  };
  const values = async (found: SecretPlaces, ...names: string[]) => {
    const find = makeFindSecret(found);
    return Promise.all(names.map(async (name) => (await find(name))?.reveal()));
  };

  it('looks in the environment, then in the file, then asks', async () => {
    writeFileSync(file, 'A=from the file\nB=from the file\n', { mode: 0o600 });
    const found = await values(places({ env: { A: 'from the environment' }, ask }), 'A', 'B', 'C');
    expect(found).toEqual(['from the environment', 'from the file', 'from a person']);
    expect(asked).toEqual(['secret C (not shown)']);
  });

  it('takes an empty variable for none', async () => {
    writeFileSync(file, 'A=from the file\n', { mode: 0o600 });
    expect(await values(places({ env: { A: '' } }), 'A')).toEqual(['from the file']);
  });

  it('is undefined where nobody has it, and nobody is there to ask', async () => {
    expect(await values(places(), 'A')).toEqual([undefined]);
  });

  it('asks for each name once, whoever waits for it', async () => {
    expect(await values(places({ ask }), 'A', 'A', 'B', 'A')).toEqual(
      Array(4).fill('from a person'),
    );
    expect(asked).toEqual(['secret A (not shown)', 'secret B (not shown)']);
  });

  it('tells once of a file that is not to be trusted, and uses nothing of it', async () => {
    writeFileSync(file, `A=${canary}\n`);
    chmodSync(file, 0o644);
    expect(await values(places(), 'A', 'B')).toEqual([undefined, undefined]);
    expect(refusals).toEqual([
      `${file}: mode 0644 lets others at the secrets; run: chmod 600 ${file}`,
    ]);
  });

  it('does not open the file while the environment has all', async () => {
    writeFileSync(file, 'A=1\n');
    chmodSync(file, 0o644);
    expect(await values(places({ env: { A: '2' } }), 'A')).toEqual(['2']);
    expect(refusals).toEqual([]);
  });
});

describe('askOnTerminal', () => {
  function terminal() {
    const modes: boolean[] = [];
    const interrupts: string[] = [];
    const input = Object.assign(new PassThrough(), {
      isTTY: true,
      setRawMode: (raw: boolean) => modes.push(raw),
    });
    const output = Object.assign(new PassThrough(), { isTTY: true });
    const interrupt = () => interrupts.push('interrupted');
    return { input, output, interrupt, modes, interrupts };
  }

  it.each([
    ['a word', `${canary}\r`, canary],
    ['a line feed at the end', `${canary}\n`, canary],
    ['corrections', `caX\u007fnary\r`, 'canary'],
    ['a line begun anew', `wrong\u0015right\r`, 'right'],
    ['letters of several bytes', 'Lände\u{1f30a}\r', 'Lände\u{1f30a}'],
    ['nothing', '\r', undefined],
    ['the end of input', 'half\u0004', undefined],
    ['arrows and tabs, which are no letters', 'a\tb\r', 'ab'],
  ])('takes %s', async (_name, keys, answer) => {
    const { input, output, interrupt, modes } = terminal();
    const ask = askOnTerminal({ input, output, interrupt });
    const asked = ask?.('secret A (not shown)');
    await new Promise((resolve) => setImmediate(resolve));
    for (const byte of Buffer.from(keys)) input.write(Buffer.from([byte]));
    expect((await asked)?.reveal()).toBe(answer);
    expect(output.read()?.toString()).toBe('secret A (not shown): \n');
    expect(modes).toEqual([true, false]);
  });

  it('interrupts the run at the wish of the person, and gives the terminal back', async () => {
    const { input, output, interrupt, modes, interrupts } = terminal();
    const asked = askOnTerminal({ input, output, interrupt })?.('A');
    input.write('ab\u0003');
    expect(await asked).toBeUndefined();
    expect([interrupts, modes]).toEqual([['interrupted'], [true, false]]);
  });

  it('asks one question after the other', async () => {
    const { input, output, interrupt } = terminal();
    const ask = askOnTerminal({ input, output, interrupt });
    const answers = [ask?.('A'), ask?.('B')];
    for (const text of ['one\r', 'two\r']) {
      await new Promise((resolve) => setImmediate(resolve));
      input.write(text);
      await new Promise((resolve) => setImmediate(resolve));
    }
    const given = await Promise.all(answers);
    expect(given.map((secret) => secret?.reveal())).toEqual(['one', 'two']);
    expect(output.read()?.toString()).toBe('A: \nB: \n');
  });

  it.each([
    ['input', { isTTY: false }, {}],
    ['output', {}, { isTTY: false }],
  ])('is not there where the %s is no terminal', (_name, inputMore, outputMore) => {
    const { input, output, interrupt } = terminal();
    Object.assign(input, inputMore);
    Object.assign(output, outputMore);
    expect(askOnTerminal({ input, output, interrupt })).toBeUndefined();
  });
});
