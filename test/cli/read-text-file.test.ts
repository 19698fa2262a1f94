import { execFileSync } from 'node:child_process';
import { chmod, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { textFileReader } from '../../src/cli/read-text-file.ts';

describe('textFileReader', () => {
  let folder = '';
  const read = textFileReader(16);

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'hopgauge-read-'));
    await writeFile(join(folder, 'good'), 'site: Größe');
    await writeFile(join(folder, 'mark'), '\ufeffsite: x');
    await writeFile(join(folder, 'full'), 'x'.repeat(16));
    await writeFile(join(folder, 'over'), 'x'.repeat(17));
    await writeFile(join(folder, 'latin'), Buffer.from([0x47, 0x72, 0xf6]));
    await writeFile(join(folder, 'empty'), '');
    await symlink('loop', join(folder, 'loop'));
    execFileSync('mkfifo', [join(folder, 'pipe')]);
    await chmod(join(folder, 'good'), 0o600);
  });
  afterAll(() => rm(folder, { recursive: true }));

  it.each([
    ['good', { ok: true, text: 'site: Größe' }],
    ['mark', { ok: true, text: 'site: x' }],
    ['full', { ok: true, text: 'x'.repeat(16) }],
    ['empty', { ok: true, text: '' }],
    ['over', { ok: false, reason: 'it is longer than 16 bytes' }],
    ['latin', { ok: false, reason: 'not UTF-8 text' }],
    ['gone', { ok: false, reason: 'no such file' }],
    ['good/x', { ok: false, reason: 'no such file' }],
    ['loop', { ok: false, reason: 'symbolic links in a circle' }],
    ['pipe', { ok: false, reason: 'not a regular file' }],
    ['.', { ok: false, reason: 'not a regular file' }],
    ['a\u0000b', { ok: false, reason: 'it cannot be opened (ERR_INVALID_ARG_VALUE)' }],
  ])('%j', async (name, expected) => {
    expect(await read(`${folder}/${name}`)).toEqual(expected);
  });

  it.each(['/dev/null', '/dev/zero'])('refuses the device %s', async (path) => {
    expect(await read(path)).toEqual({ ok: false, reason: 'not a regular file' });
  });
});
