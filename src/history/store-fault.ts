/** Why the store cannot be used; a line for the operator, and what kind of end it is. */
export class StoreFault extends Error {
  /** `locked`: another run holds it; `unusable`: everything else. */
  readonly kind: 'locked' | 'unusable';

  constructor(kind: StoreFault['kind'], message: string) {
    super(message);
    this.name = 'StoreFault';
    this.kind = kind;
  }
}

interface EngineError {
  readonly code?: unknown;
  readonly errcode?: unknown;
  readonly message?: unknown;
}

/** The low byte of SQLite's result codes (https://sqlite.org/rescode.html). */
const busy = 5;
const names: Readonly<Record<number, string>> = {
  5: 'SQLITE_BUSY',
  8: 'SQLITE_READONLY',
  10: 'SQLITE_IOERR',
  11: 'SQLITE_CORRUPT',
  13: 'SQLITE_FULL',
  14: 'SQLITE_CANTOPEN',
  26: 'SQLITE_NOTADB',
};

const remedies: Readonly<Record<string, string>> = {
  SQLITE_READONLY: 'it may not be written; look at who owns the file and its folder',
  SQLITE_IOERR:
    'the disk failed to read or write it; look at the disk, and never keep it on a network file system',
  SQLITE_CORRUPT: 'it is damaged; put it aside, and begin a new one or restore a copy',
  SQLITE_FULL: 'the disk is full; make room, the store is as it was before this run',
  SQLITE_CANTOPEN: 'it cannot be opened; look at the folder and its rights',
  SQLITE_NOTADB: 'it is no store of hopgauge; name another file with --store',
};

/** A fault of SQLite in words for the operator; rethrows what is no fault of a database. */
export function storeFault(file: string, error: unknown): StoreFault {
  if (error instanceof StoreFault) return error;
  const code = codeOf(error);
  if (code === undefined) throw error;
  if (code === names[busy]) {
    return new StoreFault(
      'locked',
      `${file}: another run is writing it; wait for its end, and run this again`,
    );
  }
  const remedy = remedies[code] ?? 'look at the file and its folder';
  return new StoreFault('unusable', `${file}: ${remedy} (${code})`);
}

/** The name of a result code, whichever binding gives it. */
function codeOf(error: unknown): string | undefined {
  if (!(error instanceof Error)) return undefined;
  const { code, errcode } = error as EngineError;
  if (typeof errcode === 'number') return names[errcode & 0xff] ?? `SQLITE_${errcode & 0xff}`;
  if (typeof code !== 'string' || !code.startsWith('SQLITE_')) return undefined;
  const known = Object.values(names).find((name) => code === name || code.startsWith(`${name}_`));
  return known ?? code;
}
