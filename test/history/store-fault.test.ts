import { describe, expect, it } from 'vitest';
import { StoreFault, storeFault } from '../../src/history/store-fault.ts';

const file = '/srv/history.sqlite';

/** Both bindings: one names the extended result code, the other gives its number. */
function faults(code: string, errcode: number): readonly [StoreFault, StoreFault] {
  const named = Object.assign(new Error('x'), { code });
  const numbered = Object.assign(new Error('x'), { code: 'ERR_SQLITE_ERROR', errcode });
  return [storeFault(file, named), storeFault(file, numbered)];
}

describe('a fault of the database', () => {
  // Result codes of SQLite, primary and extended: https://sqlite.org/rescode.html
  it.each([
    ['SQLITE_BUSY', 5, 'locked', 'another run is writing it'],
    ['SQLITE_BUSY_SNAPSHOT', 517, 'locked', 'another run is writing it'],
    ['SQLITE_READONLY', 8, 'unusable', 'it may not be written'],
    ['SQLITE_READONLY_DIRECTORY', 1544, 'unusable', 'it may not be written'],
    ['SQLITE_IOERR_WRITE', 778, 'unusable', 'the disk failed'],
    ['SQLITE_CORRUPT', 11, 'unusable', 'it is damaged'],
    ['SQLITE_FULL', 13, 'unusable', 'the disk is full'],
    ['SQLITE_CANTOPEN', 14, 'unusable', 'it cannot be opened'],
    ['SQLITE_NOTADB', 26, 'unusable', 'it is no store of hopgauge'],
  ])('%s says what it is and what to do', (code, errcode, kind, words) => {
    for (const fault of faults(code, errcode)) {
      expect(fault.kind).toBe(kind);
      expect(fault.message).toMatch(new RegExp(`^${file}: ${words}.*; .+`));
    }
  });

  it('of a code without words of its own is named by it', () => {
    const [named, numbered] = faults('SQLITE_TOOBIG', 18);
    expect(named.message).toBe(`${file}: look at the file and its folder (SQLITE_TOOBIG)`);
    expect(numbered.message).toBe(`${file}: look at the file and its folder (SQLITE_18)`);
  });

  it('that is one already stays as it is, and a bug is thrown on', () => {
    const fault = new StoreFault('unusable', 'said before');
    expect(storeFault(file, fault)).toBe(fault);
    const bug = new TypeError('x is not a function');
    expect(() => storeFault(file, bug)).toThrow(bug);
    expect(() => storeFault(file, 'a text')).toThrow('a text');
  });
});
