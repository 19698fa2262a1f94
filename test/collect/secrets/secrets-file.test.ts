import { execFileSync } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
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
