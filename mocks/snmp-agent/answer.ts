import snmp from 'net-snmp';
import type { RequestPdu, ResponsePdu } from './message-codec.ts';
import { oneMoreRow } from './one-more.ts';
import { compareNumbers, type Served, type ServedTable } from './served-objects.ts';
import type { Vice } from './vices.ts';

const { GetRequest, GetNextRequest, GetBulkRequest } = snmp.PduType;
/** RFC 3416, 3. */
const status = { tooBig: 1, genErr: 5, noAccess: 6 } as const;
const { NoSuchInstance, EndOfMibView } = snmp.ObjectType;
const ifMtu = '1.3.6.1.2.1.2.2.1.4.';
const ifAlias = '1.3.6.1.2.1.31.1.1.1.18';

/** lldpRemChassisId and dot1dTpFdbPort. */
const loopingColumns = ['1.0.8802.1.1.2.1.4.1.1.5', '1.3.6.1.2.1.17.4.3.1.2'];

/** What an agent answers from. */
export interface AnswerSettings {
  readonly table: ServedTable;
  readonly vice?: Vice;
  /** Octets of all values in one reply. */
  readonly valueBytesMax: number;
}

type Varbind = ResponsePdu['varbinds'][number];

/** Fills a response to a request (RFC 3416, 4.2). False: the agent stays silent. */
export function answer(request: RequestPdu, response: ResponsePdu, settings: AnswerSettings) {
  const { vice } = settings;
  const values = valuesWanted(request);
  if (typeof vice === 'object' && 'silentAbove' in vice && values > vice.silentAbove) return false;
  if (vice === 'ignores-bulk' && request.type === GetBulkRequest) return false;
  const refusal = refusalOf(request, values, vice);
  if (refusal !== undefined) {
    response.errorStatus = refusal;
    return true;
  }
  if (vice === 'empty-replies' && request.type !== GetRequest) return true;
  const found = valuesOf(request, settings);
  if (found === undefined) response.errorStatus = status.tooBig;
  else response.varbinds = found;
  return true;
}

function refusalOf(request: RequestPdu, values: number, vice?: Vice): number | undefined {
  const known = [GetRequest, GetNextRequest, GetBulkRequest].includes(request.type);
  if (!known) return status.noAccess;
  if (vice === 'too-big-always') return status.tooBig;
  if (vice === 'too-big-tables' && request.type !== GetRequest) return status.tooBig;
  if (vice === 'refuses-bulk' && request.type === GetBulkRequest) return status.genErr;
  if (
    vice === 'fails-at-one-column' &&
    request.varbinds.some(({ oid }) => oid.startsWith(ifAlias))
  ) {
    return status.genErr;
  }
  const limited = typeof vice === 'object' && 'tooBigAbove' in vice && values > vice.tooBigAbove;
  return limited ? status.tooBig : undefined;
}

function valuesWanted(request: RequestPdu): number {
  const count = request.varbinds.length;
  if (request.type !== GetBulkRequest) return count;
  const single = Math.min(Math.max(request.nonRepeaters, 0), count);
  return single + (count - single) * Math.max(request.maxRepetitions, 0);
}

function valuesOf(request: RequestPdu, settings: AnswerSettings): Varbind[] | undefined {
  const oids = request.varbinds.map(({ oid }) => oid);
  if (request.type === GetBulkRequest) return bulkValues(request, oids, settings);
  const one = request.type === GetRequest ? instance : following;
  const values = oids.map((oid) => one(oid, settings));
  const bytes = values.reduce((sum, value) => sum + valueBytes(value), 0);
  return bytes > settings.valueBytesMax ? undefined : values;
}

/** RFC 3416, 4.2.3: row after row, cut where the reply would grow too large. */
function bulkValues(request: RequestPdu, oids: readonly string[], settings: AnswerSettings) {
  const single = Math.min(Math.max(request.nonRepeaters, 0), oids.length);
  const values: Varbind[] = [];
  let bytes = 0;
  const add = (value: Varbind): boolean => {
    bytes += valueBytes(value);
    if (bytes > settings.valueBytesMax) return false;
    values.push(value);
    return true;
  };
  for (const oid of oids.slice(0, single)) if (!add(following(oid, settings))) return undefined;
  let cursors = oids.slice(single);
  for (let row = 0; row < request.maxRepetitions && cursors.length > 0; row += 1) {
    const found = cursors.map((oid) => following(oid, settings));
    for (const value of found) {
      if (!add(value)) return values.length > 0 ? values : undefined;
    }
    if (found.every((value) => value.type === EndOfMibView)) break;
    cursors = found.map((value) => value.oid);
  }
  return values;
}

function instance(oid: string, { table }: AnswerSettings): Varbind {
  const object = table.objects[table.places.get(oid) ?? -1];
  return object === undefined ? { oid, type: NoSuchInstance, value: null } : { ...object };
}

function following(oid: string, { table, vice }: AnswerSettings): Varbind {
  const { objects } = table;
  const at = firstAfter(table, oid);
  const object = vice === 'never-ends' ? endless(oid, table, at) : objects[at];
  if (object === undefined) return { oid, type: EndOfMibView, value: null };
  if (vice === 'loops-in-topics') {
    const column = loopingColumns.find((one) => object.oid.startsWith(`${one}.`));
    const first = objects.find(
      (other) => column !== undefined && other.oid.startsWith(`${column}.`),
    );
    return { ...(first ?? object) };
  }
  const misleads = vice === 'loops' || vice === 'goes-backwards';
  if (misleads && object.oid.startsWith(ifMtu)) {
    const first = objects.findIndex((other) => other.oid.startsWith(ifMtu));
    const stuck = vice === 'loops' || (vice === 'goes-backwards' && at > first + 2);
    return { ...(stuck ? (objects[first] ?? object) : object) };
  }
  return { ...object };
}

function endless(oid: string, { objects }: ServedTable, at: number): Served | undefined {
  return oneMoreRow(oid, objects[at - 1], objects[at]) ?? objects[at];
}

/** Place of the first object that comes after `oid`. */
function firstAfter({ objects, places }: ServedTable, oid: string): number {
  const place = places.get(oid);
  if (place !== undefined) return place + 1;
  const numbers = oid.split('.').map(Number);
  let low = 0;
  let high = objects.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const object = objects[middle];
    if (object !== undefined && compareNumbers(object.numbers, numbers) > 0) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Octets of a value with its OID, never fewer than the codec makes of it. */
function valueBytes({ oid, value }: Varbind): number {
  const octets = typeof value === 'string' || Buffer.isBuffer(value) ? Buffer.byteLength(value) : 5;
  const arcs = oid.split('.').map(Number);
  const oidOctets = arcs.reduce((sum, arc) => sum + (arc < 128 ? 1 : arc < 16384 ? 2 : 5), -1);
  return 6 + oidOctets + octets;
}
