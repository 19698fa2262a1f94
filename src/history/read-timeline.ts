import type {
  ChangedEvent,
  FindingEvent,
  GrownEvent,
  KeptAudit,
  Timeline,
  TimelineEvent,
  TimelineScope,
} from '../drift/timeline.ts';
import type { FactValue } from '../facts/entry.ts';
import { parseJson } from '../facts/json.ts';
import type { Database, SqlRow, SqlValue } from './database.ts';
import { proofEvents } from './kept-proofs.ts';
import { damaged, siteIdOf, text } from './read-past.ts';

/** Events of each kind that one timeline shows; the latest are kept. */
export const timelineEventsMax = 2000;
/** Audits that are listed; the latest are kept. */
export const auditsListedMax = 400;

/** The audits of a site, the latest first, at most `max`. */
export async function readAudits(
  database: Database,
  site: string,
  max: number = auditsListedMax,
): Promise<readonly KeptAudit[]> {
  const siteId = await siteIdOf(database, site);
  if (siteId === undefined) return [];
  const rows = await database.all(
    `select started_at, ended_at, complete, met, broken, undetermined, waived, nodes_read,
      nodes_asked, told from audit where site_id = $1 order by audit_id desc limit ${max}`,
    [siteId],
  );
  return rows.map((row) => ({
    startedAt: text(row, 'started_at'),
    endedAt: text(row, 'ended_at'),
    complete: Number(row['complete']) === 1,
    met: Number(row['met']),
    broken: Number(row['broken']),
    undetermined: Number(row['undetermined']),
    waived: Number(row['waived']),
    nodesRead: Number(row['nodes_read']),
    nodesAsked: Number(row['nodes_asked']),
    told: Number(row['told']),
  }));
}

/** Names of the sites that a store holds, in order. */
export async function readSites(database: Database): Promise<readonly string[]> {
  return (await database.all('select name from site order by name')).map((row) =>
    text(row, 'name'),
  );
}

/** What happened to a target, or to a whole site. */
export async function readTimeline(database: Database, scope: TimelineScope): Promise<Timeline> {
  const siteId = await siteIdOf(database, scope.site);
  if (siteId === undefined) return { events: [], truncated: false };
  const subjects = await subjectsIn(database, siteId, scope);
  const since = scope.since ?? '';
  const lists = [
    await changedEvents(database, subjects.where, since),
    await grownEvents(database, subjects.where, since),
    await findingEvents(database, { siteId, subjects: scope.subjects, since }),
    await proofEvents(database, scope),
  ];
  const events = lists.flat().sort((a, b) => (a.at < b.at ? -1 : Number(a.at > b.at)));
  return {
    ...(subjects.firstSeen === undefined ? {} : { firstSeen: subjects.firstSeen }),
    events,
    truncated: lists.some((list) => list.length >= timelineEventsMax),
  };
}

/** A condition on the subjects wanted, with what it binds. */
interface Where {
  readonly sql: string;
  readonly values: readonly SqlValue[];
}

async function subjectsIn(
  database: Database,
  siteId: number,
  { node, ports }: TimelineScope,
): Promise<{ readonly where: Where; readonly firstSeen?: string }> {
  const values: SqlValue[] = [siteId];
  let sql = 's.site_id = $1';
  if (node !== undefined) sql += ` and s.node = $${values.push(node)}`;
  if (ports !== undefined) {
    const named = ports.map((port) => `$${values.push(port)}`);
    sql += ` and s.port in (${named.join(', ')})`;
  }
  const [row] = await database.all(
    `select min(s.first_seen) as at from subject s where ${sql}`,
    values,
  );
  const firstSeen = row?.['at'];
  const where = { sql, values };
  return typeof firstSeen === 'string' ? { where, firstSeen } : { where };
}

const eventColumns = 'a.started_at as at, s.node as node, s.port as port, f.name as fact';
const eventJoins = `join subject s on s.subject_id = e.subject_id
  join audit a on a.audit_id = e.audit_id join fact f on f.fact_id = e.fact_id`;

async function changedEvents(
  database: Database,
  { sql, values }: Where,
  since: string,
): Promise<TimelineEvent[]> {
  const rows = await database.all(
    `select ${eventColumns}, e.was as was, e.became as became, e.seen_at as seen_at, e.why as why
      from change e ${eventJoins} where ${sql} and a.started_at >= $${values.length + 1}
      order by e.change_id desc limit ${timelineEventsMax}`,
    [...values, since],
  );
  return rows.map(changedEvent).reverse();
}

function changedEvent(row: SqlRow): ChangedEvent {
  const { why } = row;
  return {
    kind: 'changed',
    at: text(row, 'at'),
    node: text(row, 'node'),
    ...portOf(row),
    fact: text(row, 'fact'),
    was: valueIn(row, 'was'),
    is: valueIn(row, 'became'),
    seenAt: text(row, 'seen_at'),
    ...(typeof why === 'string' ? { why } : {}),
  };
}

/** A value that was kept as JSON; throws where the store holds something else. */
export function valueIn(row: SqlRow, column: string): FactValue {
  try {
    return parseJson(text(row, column)) as FactValue;
  } catch {
    throw damaged(column);
  }
}

function portOf(row: SqlRow): { readonly port?: string } {
  const port = text(row, 'port');
  return port === '' ? {} : { port };
}

async function grownEvents(
  database: Database,
  { sql, values }: Where,
  since: string,
): Promise<TimelineEvent[]> {
  const rows = await database.all(
    `select ${eventColumns}, e.added as added from growth e ${eventJoins}
      where ${sql} and a.started_at >= $${values.length + 1}
      order by e.audit_id desc limit ${timelineEventsMax}`,
    [...values, since],
  );
  return rows
    .map(
      (row): GrownEvent => ({
        kind: 'grown',
        at: text(row, 'at'),
        node: text(row, 'node'),
        port: text(row, 'port'),
        fact: text(row, 'fact'),
        added: Number(row['added']),
      }),
    )
    .reverse();
}

async function findingEvents(
  database: Database,
  of: { siteId: number; subjects: readonly string[] | undefined; since: string },
): Promise<TimelineEvent[]> {
  const values: SqlValue[] = [of.siteId];
  let sql = 'site_id = $1 and told_at is not null';
  if (of.subjects !== undefined) {
    const named = of.subjects.map((subject) => `$${values.push(subject)}`);
    const list = named.length === 0 ? 'null' : named.join(', ');
    // A finding is as well asked for by its own id, which reports and messages give.
    sql += ` and (subject in (${list}) or finding_id in (${list}))`;
  }
  const rows = await database.all(
    `select finding_id, rule, kind, subject, severity, verdict, what, cause, since, told_at, cleared_at
      from finding where ${sql} order by life_id desc limit ${timelineEventsMax}`,
    values,
  );
  return [...rows]
    .reverse()
    .flatMap(findingLife)
    .filter(({ at }) => at >= of.since);
}

function findingLife(row: SqlRow): FindingEvent[] {
  const finding = {
    id: text(row, 'finding_id'),
    rule: text(row, 'rule'),
    subject: text(row, 'subject'),
    subjectKind: text(row, 'kind'),
    severity: text(row, 'severity'),
    verdict: text(row, 'verdict'),
    what: text(row, 'what'),
    cause: text(row, 'cause'),
    since: text(row, 'since'),
  };
  const cleared = row['cleared_at'];
  return [
    { kind: 'found', at: text(row, 'told_at'), ...finding },
    ...(typeof cleared === 'string' ? [{ kind: 'cleared' as const, at: cleared, ...finding }] : []),
  ];
}
