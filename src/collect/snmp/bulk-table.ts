import snmp from 'net-snmp';
import type { Varbind } from './agent-session.ts';
import type { Answer, Series } from './asker.ts';
import type { Failure } from './failure.ts';
import { arcBytes, oidBytes, oidFollows, oidIndex, oidNumbers } from './oid.ts';
import { columnsAtOnce, type Pace, repetitionsFor, slowDown } from './pace.ts';
import type { SnmpObject } from './snmp-object.ts';

/** Rows of one column, at most, unless more are allowed for. */
export const rowsPerColumnMax = 8192;
/** Repeats of a request whose size the agent has not answered before. */
const unprovenRetries = 1;

/** What the walker asks with. */
export interface TableAsker {
  next(oids: readonly string[]): Promise<Answer<Series>>;
  bulk(oids: readonly string[], repetitions: number, retries?: number): Promise<Answer<Series>>;
}

/** What was read of one column. */
export interface WalkedColumn {
  /** Values by index (`10101`, `3.7`). */
  readonly cells: ReadonlyMap<string, Varbind>;
  /** Why the column ends early; absent: it is whole. */
  readonly cut?: Failure;
}

/** The rows of a walk, and why it may not be whole. */
export interface Walk {
  /** By the OID of the column; each one asked for is there. */
  readonly columns: ReadonlyMap<string, WalkedColumn>;
  /** What ended the walk for all columns; absent: each column ended by itself. */
  readonly failure?: Failure;
}

interface OpenColumn {
  readonly oid: string;
  readonly cells: Map<string, Varbind>;
  readonly rowsMax: number;
  cursor: string;
  /** Octets of its own OID in a reply. */
  readonly ownBytes: number;
  /** Index of the last row; none before the first. */
  lastIndex: readonly number[];
  bytes: number;
  done: boolean;
  /** A request that held it failed as a whole: it is asked for by itself. */
  alone: boolean;
  cut?: Failure;
}

/**
 * Walks columns of tables, several in one GETBULK, one request in flight, each column with its
 * own cursor. Takes short replies, asks for less where the agent cannot do more, falls back to
 * GETNEXT, and keeps the rows it has when something ends it. `rowsHint`: rows to expect, if known;
 * `rowsMax`: rows of one column, at most.
 */
export async function bulkTable(
  asker: TableAsker,
  objects: readonly SnmpObject[],
  {
    pace,
    rowsHint,
    rowsMax = rowsPerColumnMax,
  }: { readonly pace: Pace; readonly rowsHint?: number; readonly rowsMax?: number },
): Promise<Walk> {
  const columns = objects.map((object) => openColumn(object, rowsMax));
  let failure: Failure | undefined;
  // Each turn reads a value, ends a column, or asks for less; the asker bounds the requests too.
  for (;;) {
    const batch = nextBatch(columns, pace);
    if (batch.length === 0) break;
    failure = await turn(asker, batch, { pace, rowsLeft: rowsLeft(columns, batch, rowsHint) });
    if (failure !== undefined) break;
  }
  for (const column of columns) if (!column.done && failure) column.cut = failure;
  return {
    columns: new Map(columns.map((column) => [column.oid, closed(column)])),
    ...(failure === undefined ? {} : { failure }),
  };
}

function nextBatch(columns: readonly OpenColumn[], pace: Pace): readonly OpenColumn[] {
  const [first, ...others] = columns.filter((column) => !column.done);
  if (first === undefined) return [];
  if (first.alone) return [first];
  return [first, ...others.filter((column) => !column.alone)].slice(0, columnsAtOnce(pace));
}

/** One request and what it brings; a failure only where it ends the whole walk. */
async function turn(
  asker: TableAsker,
  batch: readonly OpenColumn[],
  { pace, rowsLeft }: { pace: Pace; rowsLeft: number },
): Promise<Failure | undefined> {
  const bytes = batch.reduce((sum, column) => sum + column.bytes, 0);
  const bulk = pace.mode === 'bulk';
  const repetitions = bulk ? repetitionsFor(pace, batch.length, bytes, rowsLeft) : 1;
  const values = batch.length * repetitions;
  const oids = batch.map((column) => column.cursor);
  const retries = values > pace.provenValues ? unprovenRetries : undefined;
  const answer = bulk ? await asker.bulk(oids, repetitions, retries) : await asker.next(oids);
  const series = batch.map((_, i) => (answer.ok ? (answer.value[i] ?? []) : []));
  if (series.some((found) => found.length > 0)) {
    if (bulk) pace.provenValues = Math.max(pace.provenValues, values);
    for (const [i, column] of batch.entries()) absorb(column, series[i] ?? []);
    return undefined;
  }
  const failure = answer.ok ? emptyReply : answer.failure;
  if (statuses.includes(failure.kind)) {
    single(batch, pace, failure);
    return undefined;
  }
  return slowDown(pace, failure.kind, values) ? undefined : failure;
}

/** Failures of a request as a whole, for which GETBULK or one object in it may be to blame. */
const statuses: readonly Failure['kind'][] = ['error-status', 'no-such-name'];

/** Finds what a failed request failed at: GETBULK, or one column, which must not cost the others. */
function single(batch: readonly OpenColumn[], pace: Pace, failure: Failure): void {
  if (pace.mode === 'bulk' && pace.provenValues === 0) {
    pace.mode = 'next';
    return;
  }
  if (batch.length > 1) {
    for (const column of batch) column.alone = true;
    return;
  }
  // At the end of its objects, an agent of version 1 behind a proxy says noSuchName (RFC 2576).
  for (const column of batch) end(column, failure.kind === 'no-such-name' ? undefined : failure);
  // It may have been this column, not GETBULK, that the agent could not do.
  pace.mode = 'bulk';
}

/** Takes the values of one column out of a reply. */
function absorb(column: OpenColumn, series: readonly Varbind[]): void {
  for (const varbind of series) {
    if (column.done) return;
    take(column, varbind);
  }
}

function take(column: OpenColumn, varbind: Varbind): void {
  const index = oidIndex(column.oid, varbind.oid);
  // The OID of the column is the same in all of them: only what follows it is taken apart.
  const numbers = index === undefined ? undefined : oidNumbers(index);
  if (snmp.isVarbindError(varbind)) end(column);
  else if (index === undefined) end(column, leftBackwards(column, varbind));
  else if (numbers === undefined || !oidFollows(column.lastIndex, numbers)) {
    end(column, notAdvancing);
  } else if (column.cells.size >= column.rowsMax) end(column, tooManyRows(column.rowsMax));
  else {
    column.cells.set(index, varbind);
    column.cursor = varbind.oid;
    column.lastIndex = numbers;
    const bytes = column.ownBytes + rowBytes(numbers, varbind);
    column.bytes = Math.max(bytes, (column.bytes + bytes) / 2);
  }
}

/** An object outside a column ends it, and has to come after it. */
function leftBackwards(column: OpenColumn, { oid }: Varbind): Failure | undefined {
  const [last, next] = [oidNumbers(column.cursor), oidNumbers(oid)];
  const after = last !== undefined && next !== undefined && oidFollows(last, next);
  return after ? undefined : notAdvancing;
}

function end(column: OpenColumn, cut?: Failure): void {
  column.done = true;
  if (cut !== undefined) column.cut = cut;
}

/** Rows that the columns of a batch may still have, one more to see the end. */
function rowsLeft(columns: readonly OpenColumn[], batch: readonly OpenColumn[], hint = 0): number {
  const whole = columns.filter((column) => column.done).map((column) => column.cells.size);
  const rows = Math.max(hint, ...whole);
  const left = rows + 1 - Math.min(...batch.map((column) => column.cells.size));
  return rows === 0 || left < 1 ? Number.MAX_SAFE_INTEGER : left;
}

function openColumn(object: SnmpObject, rowsMax: number): OpenColumn {
  return {
    oid: object.oid,
    cells: new Map(),
    rowsMax,
    cursor: object.oid,
    ownBytes: oidBytes(oidNumbers(object.oid) ?? []),
    lastIndex: [],
    bytes: object.bytesHint,
    done: false,
    alone: false,
  };
}

function closed(column: OpenColumn): WalkedColumn {
  return { cells: column.cells, ...(column.cut === undefined ? {} : { cut: column.cut }) };
}

/** Octets of one value and its index in a reply, tags and lengths included. */
function rowBytes(index: readonly number[], { value }: Varbind): number {
  const valueBytes = Buffer.isBuffer(value) ? value.length : 4;
  return 6 + arcBytes(index) + valueBytes;
}

const emptyReply: Failure = { kind: 'empty', words: 'answered with no values' };
const notAdvancing: Failure = {
  kind: 'garbled',
  words: 'answered with an object that does not come after the one before',
};
function tooManyRows(rowsMax: number): Failure {
  return { kind: 'flood', words: `has more than ${rowsMax} rows` };
}
