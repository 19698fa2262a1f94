import { mkdtemp, readdir, readFile, rm, stat, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canWriteFile, makeOwnFolder, writeFileWhole } from '../../src/cli/write-file.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'hopgauge-write-'));
});
afterAll(() => rm(folder, { recursive: true }));

describe('writing a file whole', () => {
  it('makes it, replaces it, and leaves nothing beside it', async () => {
    const file = join(folder, 'report.txt');
    expect(await writeFileWhole(file, 'one\n')).toEqual({ ok: true });
    expect(await writeFileWhole(file, 'two\n')).toEqual({ ok: true });
    expect(await readFile(file, 'utf8')).toBe('two\n');
    expect(await readdir(folder)).toEqual(['report.txt']);
  });

  it('keeps what is the owner’s from others', async () => {
    const file = join(folder, 'office.json');
    expect(await writeFileWhole(file, '{}', 'owner')).toEqual({ ok: true });
    expect((await stat(file)).mode & 0o777).toBe(0o600);
  });

  it('follows a symbolic link and leaves it one', async () => {
    const target = join(folder, 'real.txt');
    await writeFile(target, 'old');
    await symlink('real.txt', join(folder, 'link.txt'));
    expect(await writeFileWhole(join(folder, 'link.txt'), 'new')).toEqual({ ok: true });
    expect(await readFile(target, 'utf8')).toBe('new');
  });

  it('writes to a device as it is', async () => {
    expect(await writeFileWhole('/dev/null', 'gone')).toEqual({ ok: true });
  });

  it('says why it cannot', async () => {
    expect(await writeFileWhole(join(folder, 'no', 'report.txt'), 'x')).toEqual({
      ok: false,
      reason: 'its folder does not exist',
    });
    expect((await writeFileWhole(folder, 'x')).ok).toBe(false);
  });
});

describe('asking whether a file could be written', () => {
  it('says yes and leaves nothing behind', async () => {
    const file = join(folder, 'office.json');
    await writeFile(file, 'old');
    const before = await readdir(folder);
    expect(await canWriteFile(file)).toEqual({ ok: true });
    expect(await canWriteFile(join(folder, 'fresh.json'))).toEqual({ ok: true });
    expect(await canWriteFile('/dev/null')).toEqual({ ok: true });
    expect(await readdir(folder)).toEqual(before);
    expect(await readFile(file, 'utf8')).toBe('old');
  });

  it.each([
    ['a folder', '', 'it is a folder'],
    ['a folder that is not there', 'no/office.json', 'its folder does not exist'],
  ])('says no to %s', async (_name, path, reason) => {
    expect(await canWriteFile(join(folder, path))).toEqual({ ok: false, reason });
  });
});

describe('making a folder', () => {
  it('makes it with those above it, for its owner alone, and leaves one that is there', async () => {
    const path = join(folder, 'state', 'hopgauge', 'rehearsed');
    expect(await makeOwnFolder(path)).toEqual({ ok: true });
    expect((await stat(path)).mode & 0o777).toBe(0o700);
    await writeFile(join(path, 'one'), '');
    expect(await makeOwnFolder(path)).toEqual({ ok: true });
    expect(await readdir(path)).toEqual(['one']);
  });

  it('says why it cannot', async () => {
    await writeFile(join(folder, 'no-folder'), '');
    expect(await makeOwnFolder(join(folder, 'no-folder', 'in'))).toEqual({
      ok: false,
      reason: 'its folder does not exist',
    });
  });
});
