import { chartedFacts } from '../drift/silences.ts';
import type {
  EndedSilence,
  FindingLife,
  PastCut,
  SeenChange,
  SeenGrowth,
  SitePast,
} from '../drift/site-past.ts';
import type { Database, SqlRow, SqlValue } from './database.ts';
import { siteIdOf, text } from './read-past.ts';
import { readAudits, valueIn } from './read-timeline.ts';

/** Nights that are read; the latest are kept. */
export const nightsReadMax = 400;
/** Rows that are read of changes, of growths, of silences and of findings; the latest are kept. */
export const pastRowsMax = 100_000;

/** What is read at most; a page takes what the constants say. */
export interface PastBounds {
  readonly nights: number;
  readonly rows: number;
}

/** The latest nights of a site with all that a page draws of them. */
export async function readSitePast(
  database: Database,
  site: string,
  bounds: PastBounds = { nights: nightsReadMax, rows: pastRowsMax },
): Promise<SitePast> {
  const siteId = await siteIdOf(database, site);
  // One more than is kept tells whether there are more.
  const audits = (await readAudits(database, site, bounds.nights + 1)).toReversed();
  const nights = audits.slice(-bounds.nights);
  const since = nights[0]?.startedAt;
  const lastAt = nights.at(-1)?.startedAt ?? '';
  if (siteId === undefined || since === undefined)
    return { site, nights: [], changes: [], growths: [], silences: [], lives: [], cut: {} };
  const read = <T>(sql: string, of: (row: SqlRow) => T) =>
    latest(database, { sql, values: [siteId, since], of, rowsMax: bounds.rows });
  const changes = await read(changesSql, changeOf);
  const growths = await read(growthsSql, growthOf);
  const silences = await read(silencesSql, numbered(silenceOf));
  const lives = await read(livesSql, numbered(lifeOf));
  const cut: PastCut = {
    ...(audits.length > nights.length ? { nights: since } : {}),
    ...cutAt('changes', changes, ({ at }) => at),
    ...cutAt('growths', growths, ({ at }) => at),
    ...cutAt('silences', silences, ({ row: { endedAt } }) => endedAt ?? lastAt),
    ...cutAt('lives', lives, ({ row: { clearedAt } }) => clearedAt ?? lastAt),
  };
  return {
    site,
    nights,
    changes: changes.rows,
    growths: growths.rows,
    silences: inOrder(silences.rows),
    lives: inOrder(lives.rows),
    cut,
  };
}

/** Rows that were read by their end, in the order in which they were written, without its number. */
function inOrder<T extends object>(rows: readonly Numbered<T>[]): readonly T[] {
  return rows.toSorted((a, b) => a.number - b.number).map(({ row }) => row);
}

function numbered<T>(of: (row: SqlRow) => T): (row: SqlRow) => Numbered<T> {
  return (row) => ({ number: Number(row['number']), row: of(row) });
}

interface Numbered<T> {
  readonly number: number;
  readonly row: T;
}

interface Latest<T> {
  readonly rows: readonly T[];
  readonly isCut: boolean;
}

interface Wanted<T> {
  /** Binds site and first night, and orders the latest first. */
  readonly sql: string;
  readonly values: readonly SqlValue[];
  readonly of: (row: SqlRow) => T;
  readonly rowsMax: number;
}

/** The latest rows, in the order in which they were written. */
async function latest<T>(
  database: Database,
  { sql, values, of, rowsMax }: Wanted<T>,
): Promise<Latest<T>> {
  const rows = await database.all(`${sql} limit ${rowsMax + 1}`, values);
  const kept = rows.slice(0, rowsMax).map(of).reverse();
  return { rows: kept, isCut: rows.length > rowsMax };
}

/** What is older than the oldest row that was kept may be lacking, and so may rows of its own night. */
function cutAt<T>(
  name: keyof PastCut,
  { rows, isCut }: Latest<T>,
  timeOf: (row: T) => string,
): PastCut {
  const [oldest] = rows;
  return isCut && oldest !== undefined ? { [name]: timeOf(oldest) } : {};
}

const charted = [...chartedFacts, 'present'].map((fact) => `'${fact}'`).join(', ');
const subjectColumns = 's.node as node, s.port as port, s.first_seen as first_seen, f.name as fact';
const eventJoins = `join subject s on s.subject_id = e.subject_id
  join audit a on a.audit_id = e.audit_id join fact f on f.fact_id = e.fact_id`;

const changesSql = `select a.started_at as at, ${subjectColumns}, e.was as was, e.became as became,
    e.seen_at as seen_at, e.why as why
  from change e ${eventJoins}
  where s.site_id = $1 and a.started_at >= $2 and s.port <> '' and f.name in (${charted})
  order by e.change_id desc`;

function changeOf(row: SqlRow): SeenChange {
  const { why } = row;
  return {
    kind: 'changed',
    at: text(row, 'at'),
    node: text(row, 'node'),
    port: text(row, 'port'),
    firstSeen: text(row, 'first_seen'),
    fact: text(row, 'fact'),
    was: valueIn(row, 'was'),
    is: valueIn(row, 'became'),
    seenAt: text(row, 'seen_at'),
    ...(typeof why === 'string' ? { why } : {}),
  };
}

const growthsSql = `select a.started_at as at, ${subjectColumns}, e.added as added
  from growth e ${eventJoins}
  where s.site_id = $1 and a.started_at >= $2
  order by e.audit_id desc, e.subject_id desc, e.fact_id desc`;

function growthOf(row: SqlRow): SeenGrowth {
  return {
    kind: 'grown',
    at: text(row, 'at'),
    node: text(row, 'node'),
    port: text(row, 'port'),
    firstSeen: text(row, 'first_seen'),
    fact: text(row, 'fact'),
    added: Number(row['added']),
  };
}

/** What ended first is left out first: what lasts is never left out for what is over. */
const silencesSql = `select e.silence_id as number, s.node as node, s.port as port, f.name as fact, e.seen_at as seen_at,
    e.ended_at as ended_at
  from silence e join subject s on s.subject_id = e.subject_id
    left join fact f on f.fact_id = e.fact_id
  where s.site_id = $1 and (e.ended_at is null or e.ended_at > $2)
  order by coalesce(e.ended_at, '~') desc, e.silence_id desc`;

function silenceOf(row: SqlRow): EndedSilence {
  const { fact, ended_at: endedAt } = row;
  return {
    node: text(row, 'node'),
    ...(typeof fact === 'string' ? { port: text(row, 'port'), fact } : {}),
    seenAt: text(row, 'seen_at'),
    ...(typeof endedAt === 'string' ? { endedAt } : {}),
  };
}

const livesSql = `select life_id as number, finding_id, policy, rule, kind, subject, severity, verdict, what, cause,
    since, last_at, nights, told_at, cleared_at
  from finding
  where site_id = $1 and (cleared_at is null or cleared_at >= $2)
  order by coalesce(cleared_at, '~') desc, life_id desc`;

function lifeOf(row: SqlRow): FindingLife {
  const { told_at: toldAt, cleared_at: clearedAt } = row;
  return {
    id: text(row, 'finding_id'),
    policy: text(row, 'policy'),
    rule: text(row, 'rule'),
    subject: { kind: text(row, 'kind'), id: text(row, 'subject') },
    severity: text(row, 'severity'),
    verdict: text(row, 'verdict'),
    what: text(row, 'what'),
    cause: text(row, 'cause'),
    since: text(row, 'since'),
    lastAt: text(row, 'last_at'),
    nights: Number(row['nights']),
    ...(typeof toldAt === 'string' ? { toldAt } : {}),
    ...(typeof clearedAt === 'string' ? { clearedAt } : {}),
  };
}
