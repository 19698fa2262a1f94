/** What a statement may bind: text, finite numbers, bytes, or nothing. */
export type SqlValue = string | number | Uint8Array | null;

/** A row of an answer, by the names of its columns. */
export type SqlRow = Readonly<Record<string, SqlValue>>;

/**
 * A database behind the store. Statements are of the SQL that SQLite and PostgreSQL share, with
 * `$1` to `$n` for what is bound; both take one text.
 */
export interface Database {
  /** Runs a statement and gives its rows. */
  readonly all: (sql: string, values?: readonly SqlValue[]) => Promise<readonly SqlRow[]>;
  /** Runs one statement once for each list of values. */
  readonly each: (sql: string, lists: readonly (readonly SqlValue[])[]) => Promise<void>;
  /** All of `work` or nothing of it; one writer at a time. */
  readonly transaction: <T>(work: () => Promise<T>) => Promise<T>;
  /** Whether a table of this name is there. */
  readonly hasTable: (name: string) => Promise<boolean>;
  /** Gives the room of what was taken out back. */
  readonly compact: () => Promise<void>;
  /** What a whole check finds; empty: nothing is wrong. */
  readonly faults: () => Promise<readonly string[]>;
  /** Of a server that several machines share; absent: a file of this machine. */
  readonly shared?: SharedParts;
  readonly close: () => Promise<void>;
}

/** What only a server has. */
export interface SharedParts {
  /**
   * Takes a lock of this name until the database is closed; false when another session has it. A
   * session that was lost and made anew takes its locks again.
   */
  readonly tryLock: (name: string) => Promise<boolean>;
  /** Counts the sessions: another number tells that the one before was lost. */
  readonly session: () => number;
}
