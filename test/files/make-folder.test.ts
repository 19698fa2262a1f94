import { mkdirSync, mkdtempSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { makeFolder } from '../../src/files/make-folder.ts';

const home = mkdtempSync(join(tmpdir(), 'hopgauge-files-'));
afterAll(() => rmSync(home, { recursive: true }));
const modeOf = (...names: string[]) => statSync(join(home, ...names)).mode & 0o777;

describe('making a folder', () => {
  it('makes those above it, for their owner alone where that is asked', () => {
    makeFolder(join(home, 'a/b/c'), 0o700);
    expect([modeOf('a'), modeOf('a/b'), modeOf('a/b/c')]).toEqual([0o700, 0o700, 0o700]);
  });

  it('leaves one that is there as it is', () => {
    mkdirSync(join(home, 'open'), { mode: 0o755 });
    makeFolder(join(home, 'open'), 0o700);
    makeFolder(join(home, 'open/in'), 0o700);
    expect([modeOf('open'), modeOf('open/in')]).toEqual([0o755, 0o700]);
  });

  it('goes through a link to a folder', () => {
    mkdirSync(join(home, 'real'));
    symlinkSync('real', join(home, 'link'));
    makeFolder(join(home, 'link/in'));
    expect(statSync(join(home, 'real/in')).isDirectory()).toBe(true);
  });

  it.each([
    ['a file', 'file', 'EEXIST'],
    ['below a file', 'file/in', 'ENOTDIR'],
    ['a link to nothing', 'dangling', 'EEXIST'],
    ['a name too long', 'n'.repeat(300), 'ENAMETOOLONG'],
  ])('says what hinders it: %s', (_, path, code) => {
    writeFileSync(join(home, 'file'), '');
    rmSync(join(home, 'dangling'), { force: true });
    symlinkSync('nowhere', join(home, 'dangling'));
    expect(() => makeFolder(join(home, path))).toThrow(expect.objectContaining({ code }));
  });

  // mkdir(2) on /proc answers ENOENT although /proc is there, as automounters do: it must end.
  it.runIf(process.platform === 'linux')('ends where a folder takes none (needs Linux)', () => {
    const none = expect.objectContaining({ code: 'ENOENT' });
    expect(() => makeFolder('/proc/hopgauge/in')).toThrow(none);
  });
});
