import type { Database } from './database.ts';
import { migrations, storeVersion } from './migrations.ts';
import { StoreFault } from './store-fault.ts';

/**
 * Brings the tables to the version of this program, all or nothing. A store of a later version is
 * left alone: throws `StoreFault`.
 */
export async function migrate(database: Database, file: string): Promise<void> {
  // Who may only read finds the tables as they are, and makes none.
  if ((await versionOf(database, file)) === storeVersion) return;
  await database.transaction(async () => {
    await database.all(
      'create table if not exists store_version (version integer not null, applied_at text not null)',
    );
    const version = await versionOf(database, file);
    if (version === storeVersion) return;
    for (const [at, statements] of migrations.entries()) {
      if (at < version) continue;
      for (const statement of statements) await database.all(statement);
    }
    await database.all('delete from store_version');
    await database.all('insert into store_version (version, applied_at) values ($1, $2)', [
      storeVersion,
      new Date().toISOString(),
    ]);
  });
}

async function versionOf(database: Database, file: string): Promise<number> {
  if (!(await database.hasTable('store_version'))) return 0;
  const [row] = await database.all('select max(version) as version from store_version');
  const version = Number(row?.['version'] ?? 0);
  if (version > storeVersion) {
    throw new StoreFault(
      'unusable',
      `${file}: written by a later hopgauge (version ${version} of the store, this one knows ${storeVersion}); use that one, or name another file with --store`,
    );
  }
  return version;
}
