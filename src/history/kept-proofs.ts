import type { ProofEvent, TimelineScope } from '../drift/timeline.ts';
import { parseJson } from '../facts/json.ts';
import { newestProofs } from '../facts/newest-proofs.ts';
import type { FitProof, ProofOfDirection, Proofs, TransferProof } from '../facts/proof.ts';
import { fitProofSchema, transferProofSchema } from '../facts/proof-schema.ts';
import type { Database, SqlRow, SqlValue } from './database.ts';
import { damaged, siteIdOf, text } from './read-past.ts';

/** Rows that are read at once; the latest. */
const proofRowsMax = 10_000;

/**
 * Keeps proofs of a site. A fit that shows the same as the last one of its direction only carries
 * that one on, so that a year of nights with the same result is one row.
 */
export async function writeProofs(
  database: Database,
  siteId: number,
  { fits, transfers }: Proofs,
): Promise<void> {
  for (const fit of fits) await writeOne(database, siteId, { kind: 'fit', proof: fit });
  for (const transfer of transfers) {
    await writeOne(database, siteId, { kind: 'transfer', proof: transfer });
  }
}

type Kept =
  | { readonly kind: 'fit'; readonly proof: FitProof }
  | { readonly kind: 'transfer'; readonly proof: TransferProof };

async function writeOne(database: Database, siteId: number, kept: Kept): Promise<void> {
  const { kind, proof } = kept;
  const key: SqlValue[] = [siteId, kind, proof.from, proof.to, proof.toAddress];
  const [last] = await database.all(
    `select proof_id, ended_at, body from proof where site_id = $1 and kind = $2 and from_node = $3
      and to_node = $4 and to_address = $5 order by ended_at desc limit 1`,
    key,
  );
  // An audit takes what is kept into its survey, and so brings it again.
  if (last !== undefined && text(last, 'ended_at') >= proof.at) return;
  if (last !== undefined && kind === 'fit' && showsTheSame(keptOf(kind, last).proof, proof)) {
    await database.all('update proof set ended_at = $2, body = $3 where proof_id = $1', [
      Number(last['proof_id']),
      proof.at,
      JSON.stringify(proof),
    ]);
    return;
  }
  await database.all(
    `insert into proof (site_id, kind, from_node, to_node, to_address, started_at, ended_at, body)
      values ($1, $2, $3, $4, $5, $6, $6, $7)`,
    [...key, proof.at, JSON.stringify(proof)],
  );
}

function showsTheSame(a: ProofOfDirection, b: ProofOfDirection): boolean {
  const shown = ({ at: _, ...rest }: ProofOfDirection) => Object.entries(rest).sort();
  return JSON.stringify(shown(a)) === JSON.stringify(shown(b));
}

/** The newest proof of each direction that is of or after `since`, ISO 8601. */
export async function readProofs(
  database: Database,
  { site, since }: { readonly site: string; readonly since: string },
): Promise<Proofs> {
  const kept = (await rowsOf(database, site, since)).map(({ row, kind }) => keptOf(kind, row));
  const fits = kept.flatMap((each) => (each.kind === 'fit' ? [each.proof] : []));
  const transfers = kept.flatMap((each) => (each.kind === 'transfer' ? [each.proof] : []));
  return { fits: newestProofs(fits), transfers: newestProofs(transfers) };
}

/** What was shown of the ways of a timeline, each result with the time from when it holds. */
export async function proofEvents(
  database: Database,
  { site, since = '', ways }: TimelineScope,
): Promise<ProofEvent[]> {
  if (ways?.length === 0) return [];
  const wanted = ways && new Set(ways.map(({ from, to }) => `${from}\n${to}`));
  return (await rowsOf(database, site, since)).flatMap(({ row, kind }): ProofEvent[] => {
    const kept = keptOf(kind, row);
    const { from, to } = kept.proof;
    if (wanted !== undefined && !wanted.has(`${from}\n${to}`)) return [];
    const times = { at: text(row, 'started_at'), lastAt: text(row, 'ended_at') };
    return [
      kept.kind === 'fit'
        ? { kind: 'proven', ...times, fit: kept.proof }
        : { kind: 'measured', ...times, transfer: kept.proof },
    ];
  });
}

async function rowsOf(
  database: Database,
  site: string,
  since: string,
): Promise<readonly { readonly row: SqlRow; readonly kind: Kept['kind'] }[]> {
  const siteId = await siteIdOf(database, site);
  if (siteId === undefined) return [];
  const rows = await database.all(
    `select kind, started_at, ended_at, body from proof where site_id = $1 and ended_at >= $2
      order by ended_at desc, proof_id desc limit ${proofRowsMax}`,
    [siteId, since],
  );
  return [...rows].reverse().map((row) => ({ row, kind: kindOf(row) }));
}

function kindOf(row: SqlRow): Kept['kind'] {
  const kind = text(row, 'kind');
  if (kind !== 'fit' && kind !== 'transfer') throw damaged('kind of a proof');
  return kind;
}

/** A store is a file that others could write: what is read back is checked. */
function keptOf(kind: Kept['kind'], row: SqlRow): Kept {
  let value: unknown;
  try {
    value = parseJson(text(row, 'body'));
  } catch {
    throw damaged('a proof');
  }
  const schema = kind === 'fit' ? fitProofSchema : transferProofSchema;
  const checked = schema.safeParse(value);
  if (!checked.success) throw damaged('a proof');
  return { kind, proof: checked.data } as Kept;
}
