import type { Night } from '../drift/night.ts';
import type { Database } from './database.ts';
import type { NumberOf } from './numbers-of.ts';

/**
 * Opens the silences that tonight has and the store has not, and ends those that tonight no longer
 * has. Those of ports of a node that gave no answer stay as they are.
 */
export async function writeSilences(
  database: Database,
  {
    siteId,
    night,
    numbers,
  }: { readonly siteId: number; readonly night: Night; readonly numbers: NumberOf },
): Promise<void> {
  const rows = await database.all(
    `select e.silence_id as id, e.subject_id as subject, e.fact_id as fact, s.node as node
      from silence e join subject s on s.subject_id = e.subject_id
      where s.site_id = $1 and e.ended_at is null`,
    [siteId],
  );
  const open = new Map(rows.map((row) => [`${row['subject']} ${row['fact'] ?? ''}`, row]));
  const fresh: (string | number | null)[][] = [];
  const lasting = new Set<string>();
  for (const { node, port, fact, seenAt } of night.silences) {
    const subject = await numbers.subject(node, port ?? '');
    const factNumber = fact === undefined ? null : await numbers.fact(fact);
    const key = `${subject} ${factNumber ?? ''}`;
    lasting.add(key);
    if (!open.has(key)) fresh.push([subject, factNumber, seenAt]);
  }
  const read = new Set(night.known.map(({ node }) => node));
  const ended = [...open].filter(([key, { node }]) => !lasting.has(key) && read.has(String(node)));
  await database.each(
    'update silence set ended_at = $2 where silence_id = $1',
    ended.map(([, { id }]) => [Number(id), night.startedAt]),
  );
  await database.each(
    'insert into silence (subject_id, fact_id, seen_at) values ($1, $2, $3)',
    fresh,
  );
}
