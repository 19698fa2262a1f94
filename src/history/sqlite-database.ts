import type { Database, SqlValue } from './database.ts';
import type { SqliteEngine, Statement } from './sqlite-engine.ts';

/** An open SQLite file as a database of the store. */
export function sqliteDatabase(engine: SqliteEngine): Database {
  const statements = new Map<string, Statement>();
  const prepared = (sql: string): Statement => {
    const known = statements.get(sql) ?? engine.prepare(sql);
    statements.set(sql, known);
    return known;
  };
  return {
    all: async (sql, values = []) => prepared(sql).all(values),
    each: async (sql, lists) => {
      const statement = prepared(sql);
      for (const values of lists) statement.run(values as SqlValue[]);
    },
    transaction: async (work) => {
      // IMMEDIATE, so that a second writer waits here and not in the middle of its work.
      engine.exec('BEGIN IMMEDIATE');
      try {
        const result = await work();
        engine.exec('COMMIT');
        return result;
      } catch (error) {
        rollBack(engine);
        throw error;
      }
    },
    close: async () => engine.close(),
  };
}

/** SQLite has already rolled back after some faults, such as a full disk. */
function rollBack(engine: SqliteEngine): void {
  try {
    engine.exec('ROLLBACK');
  } catch {
    // Nothing was open any more, which is what was wanted.
  }
}
