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
  const all: Database['all'] = async (sql, values = []) => prepared(sql).all(values);
  return {
    all,
    hasTable: async (name) => {
      const sql = "select 1 as there from sqlite_master where type = 'table' and name = $1";
      return (await all(sql, [name])).length > 0;
    },
    compact: async () => {
      await all('vacuum');
    },
    faults: () => faultsIn(all),
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

async function faultsIn(all: Database['all']): Promise<readonly string[]> {
  const rows = await all('pragma integrity_check');
  const words = rows.flatMap((row) => Object.values(row)).map(String);
  const strays = await all('pragma foreign_key_check');
  return [
    ...words.filter((each) => each !== 'ok'),
    ...(strays.length === 0 ? [] : [`rows that belong to nothing: ${strays.length}`]),
  ];
}

/** SQLite has already rolled back after some faults, such as a full disk. */
function rollBack(engine: SqliteEngine): void {
  try {
    engine.exec('ROLLBACK');
  } catch {
    // Nothing was open any more, which is what was wanted.
  }
}
