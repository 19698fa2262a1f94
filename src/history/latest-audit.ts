import type { KeptResult } from '../drift/kept-result.ts';
import type { Database } from './database.ts';
import { pack, unpack } from './pack.ts';
import { damaged, siteIdOf } from './read-past.ts';

/** Keeps the latest audit of a site, in place of the one before. */
export async function writeLatest(
  database: Database,
  siteId: number,
  result: KeptResult,
): Promise<void> {
  await database.all(
    `insert into latest_audit (site_id, started_at, body) values ($1, $2, $3)
      on conflict (site_id) do update set started_at = excluded.started_at, body = excluded.body`,
    [siteId, result.startedAt, pack(result)],
  );
}

/** The latest audit of a site; undefined: none, or a hopgauge that kept none wrote the last night. */
export async function readLatest(
  database: Database,
  site: string,
): Promise<KeptResult | undefined> {
  const siteId = await siteIdOf(database, site);
  if (siteId === undefined) return undefined;
  const [row] = await database.all(
    `select l.body as body from latest_audit l where l.site_id = $1 and l.started_at =
      (select started_at from audit where site_id = $1 order by audit_id desc limit 1)`,
    [siteId],
  );
  if (row === undefined) return undefined;
  const { body } = row;
  if (!(body instanceof Uint8Array)) throw damaged('body');
  try {
    // Written by this program alone, and the version of the tables says in which form.
    return unpack(body) as KeptResult;
  } catch {
    throw damaged('the latest audit');
  }
}
