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
  readonly close: () => Promise<void>;
}
