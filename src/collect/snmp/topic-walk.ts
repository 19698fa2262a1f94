import type { ReadTopic } from '../../facts/read-topics.ts';
import type { Asker } from './asker.ts';
import { bulkTable, rowsPerColumnMax, type Walk, type WalkedColumn } from './bulk-table.ts';
import type { Failure } from './failure.ts';
import { oidIndex } from './oid.ts';
import type { Pace } from './pace.ts';
import type { SnmpObject } from './snmp-object.ts';
import { type TopicTable, topicTables } from './topic-tables.ts';

/** Tables that are looked for in one GETNEXT. */
const looksAtOnceMax = 16;

/** What was walked for the topics, and which tables have rows. */
export interface TopicWalk extends Walk {
  /** Whether the table of a column has rows; unknown counts as yes. */
  readonly served: (column: SnmpObject) => boolean;
}

/**
 * Walks the tables that the topics need. All of them are looked for first, many in one GETNEXT, so
 * that a table which the agent does not have costs no request of its own. `ended`: what ended an
 * earlier walk of the same agent; then nothing is asked and all is cut short by it.
 */
export async function walkTopics(
  asker: Asker,
  topics: ReadonlySet<ReadTopic>,
  { pace, ended }: { readonly pace: Pace; readonly ended?: Failure },
): Promise<TopicWalk> {
  const tables = topicTables.filter((table) => table.topics.some((topic) => topics.has(topic)));
  const columns = new Map<string, WalkedColumn>();
  const absent = new Set<string>();
  let failure = ended;
  if (failure === undefined && tables.length > 0) {
    failure = await lookFor(asker, pace, { tables, absent });
  }
  const served = ({ oid }: SnmpObject) => !absent.has(oid);
  const wanted = tables.filter((table) => isWanted(table, served));
  for (const rowsMax of new Set(wanted.map((table) => table.rowsMax ?? rowsPerColumnMax))) {
    const alike = wanted.filter((table) => (table.rowsMax ?? rowsPerColumnMax) === rowsMax);
    const objects = alike.flatMap((table) => (served(table.columns[0]) ? table.columns : []));
    const walked: Walk =
      failure === undefined
        ? await bulkTable(asker, objects, { pace, rowsMax })
        : { columns: cutColumns(objects, failure), failure };
    for (const [oid, column] of walked.columns) columns.set(oid, column);
    failure ??= walked.failure;
  }
  for (const table of wanted) {
    for (const { oid } of table.columns) if (!columns.has(oid)) columns.set(oid, emptyColumn);
  }
  return { columns, served, ...(failure === undefined ? {} : { failure }) };
}

const emptyColumn: WalkedColumn = { cells: new Map() };

function isWanted(table: TopicTable, served: (column: SnmpObject) => boolean): boolean {
  const { insteadOf, beside } = table;
  return (
    (insteadOf === undefined || !served(insteadOf)) && (beside === undefined || served(beside))
  );
}

function cutColumns(objects: readonly SnmpObject[], cut: Failure): Map<string, WalkedColumn> {
  return new Map(objects.map(({ oid }) => [oid, { cells: new Map(), cut }]));
}

/** Notes the tables without a row. A failure ends it only where no request would be answered. */
async function lookFor(
  asker: Asker,
  pace: Pace,
  { tables, absent }: { tables: readonly TopicTable[]; absent: Set<string> },
): Promise<Failure | undefined> {
  const heads = tables.map((table) => table.columns[0].oid);
  const atOnce = Math.max(1, Math.min(looksAtOnceMax, pace.valuesMax));
  for (let from = 0; from < heads.length; from += atOnce) {
    const part = heads.slice(from, from + atOnce);
    const answer = await asker.next(part);
    if (!answer.ok) {
      if (final.includes(answer.failure.kind)) return answer.failure;
      continue;
    }
    for (const [i, head] of part.entries()) {
      const [found] = answer.value[i] ?? [];
      if (found !== undefined && oidIndex(head, found.oid) === undefined) absent.add(head);
    }
  }
  return undefined;
}

/** Failures after which an agent answers nothing else either. */
const final: readonly Failure['kind'][] = ['over', 'flood', 'timeout', 'unsendable', 'clock'];
