import type { PostgresDatabase } from '../history/postgres-database.ts';

const key = "hashtextextended('hopgauge node ' || $1::text, 0)";

/** What stands for a node of a site in the locks of the server. */
export function nodeKey(site: string, node: string): string {
  return JSON.stringify([site, node]);
}

/**
 * Takes the lock of a node for this session; false: another session has it. It ends with the
 * session, however that ends, so that it tells who lives.
 */
export async function tryLockNode(database: PostgresDatabase, node: string): Promise<boolean> {
  const { rows } = await database.run(`select pg_try_advisory_lock(${key}) as taken`, [node]);
  return (rows[0] as { taken?: unknown } | undefined)?.taken === true;
}

/** Gives the lock of a node back. */
export async function unlockNode(database: PostgresDatabase, node: string): Promise<void> {
  await database.run(`select pg_advisory_unlock(${key})`, [node]);
}

/** Which of these nodes some session has locked now. */
export async function lockedNodes(
  database: PostgresDatabase,
  nodes: readonly string[],
): Promise<ReadonlySet<string>> {
  const { rows } = await database.run(
    `select n.node as node from unnest($1::text[]) as n (node)
      join pg_locks l on l.locktype = 'advisory' and l.objsubid = 1 and l.granted
        and l.database = (select oid from pg_database where datname = current_database())
        and ((l.classid::bigint << 32) | l.objid::bigint)
          = hashtextextended('hopgauge node ' || n.node, 0)`,
    [nodes],
  );
  return new Set((rows as readonly { node: string }[]).map(({ node }) => node));
}
