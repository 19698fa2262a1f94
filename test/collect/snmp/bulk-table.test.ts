import fc from 'fast-check';
import snmp from 'net-snmp';
import { describe, expect, it } from 'vitest';
import { answer } from '../../../mocks/snmp-agent/answer.ts';
import type { RequestPdu, ResponsePdu } from '../../../mocks/snmp-agent/message-codec.ts';
import {
  compareNumbers,
  type Served,
  type ServedTable,
  servedObjects,
  tableOf,
} from '../../../mocks/snmp-agent/served-objects.ts';
import type { Vice } from '../../../mocks/snmp-agent/vices.ts';
import type { Answer, Series } from '../../../src/collect/snmp/asker.ts';
import {
  bulkTable,
  rowsPerColumnMax,
  type TableAsker,
  type Walk,
} from '../../../src/collect/snmp/bulk-table.ts';
import { failureOf } from '../../../src/collect/snmp/failure.ts';
import { portColumns } from '../../../src/collect/snmp/objects.ts';
import { newPace, type Pace } from '../../../src/collect/snmp/pace.ts';
import type { SnmpObject } from '../../../src/collect/snmp/snmp-object.ts';
import { plainSwitch } from './quay-switch.ts';

const { GetBulkRequest, GetNextRequest } = snmp.PduType;

interface Memory {
  readonly objects: readonly Served[];
  readonly vice?: Vice;
  readonly valueBytesMax?: number;
}

/** An agent without a network: the simulated agent's answers, straight into the walker. */
class MemoryAsker implements TableAsker {
  requests = 0;
  readonly #memory: Memory;
  readonly #table: ServedTable;

  constructor(memory: Memory) {
    this.#memory = memory;
    this.#table = tableOf(memory.objects);
  }

  next(oids: readonly string[]): Promise<Answer<Series>> {
    return this.#ask(GetNextRequest, oids, 0);
  }

  bulk(oids: readonly string[], repetitions: number): Promise<Answer<Series>> {
    return this.#ask(GetBulkRequest, oids, repetitions);
  }

  async #ask(type: number, oids: readonly string[], repetitions: number): Promise<Answer<Series>> {
    this.requests += 1;
    if (this.requests > 50_000) throw new Error('the walker does not end');
    const response: ResponsePdu = { varbinds: [] };
    const request: RequestPdu = {
      type,
      varbinds: oids.map((oid) => ({ oid })),
      nonRepeaters: 0,
      maxRepetitions: repetitions,
      getResponsePduForRequest: () => response,
    };
    const { vice, valueBytesMax = 1400 } = this.#memory;
    const settings = { table: this.#table, valueBytesMax, ...(vice === undefined ? {} : { vice }) };
    if (!answer(request, response, settings)) return failed({ name: 'RequestTimedOutError' });
    const { errorStatus: status = 0 } = response;
    if (status > 0) return failed({ name: 'RequestFailedError', status });
    const series: snmp.Varbind[][] = oids.map(() => []);
    for (const [i, varbind] of response.varbinds.entries()) {
      series[i % oids.length]?.push({ ...varbind, value: varbind.value as snmp.VarbindValue });
    }
    return { ok: true, value: series };
  }
}

function failed(parts: object): Answer<Series> {
  return { ok: false, failure: failureOf(Object.assign(new Error(), parts)) };
}

const served = (ports: number, vice?: Vice) => servedObjects(plainSwitch(ports), vice);
const columns: readonly SnmpObject[] = Object.values(portColumns);

async function walk(ports: number, vice?: Vice, pace: Pace = newPace('2c')) {
  const asker = new MemoryAsker({
    objects: served(ports),
    ...(vice === undefined ? {} : { vice }),
  });
  const walked = await bulkTable(asker, columns, { pace, rowsHint: ports });
  return { walked, requests: asker.requests, pace };
}

/** Columns that are not whole, or not as long as the others, with their number of rows. */
function oddColumns(walked: Walk, rows: number): readonly string[] {
  return Object.entries(portColumns).flatMap(([name, { oid }]) => {
    const column = walked.columns.get(oid);
    if (column?.cells.size === rows && column.cut === undefined) return [];
    return [`${name}: ${column?.cells.size} rows, ${column?.cut?.words ?? 'whole'}`];
  });
}

const notAfter = 'answered with an object that does not come after the one before';

describe('bulkTable', () => {
  it.each<[string, Vice | undefined, readonly string[]]>([
    ['a sound agent', undefined, []],
    ['tooBig above 10 values', { tooBigAbove: 10 }, []],
    ['tooBig above 1 value', { tooBigAbove: 1 }, []],
    ['silence above 20 values', { silentAbove: 20 }, []],
    ['silence to GETBULK', 'ignores-bulk', []],
    ['genErr to GETBULK', 'refuses-bulk', []],
    ['genErr at one column', 'fails-at-one-column', ['ifAlias: 0 rows, answered GeneralError']],
    ['one OID for ever', 'loops', [`ifMtu: 1 rows, ${notAfter}`]],
    ['going backwards', 'goes-backwards', [`ifMtu: 3 rows, ${notAfter}`]],
  ])('reads 52 rows of each column from an agent with %s', async (_, vice, odd) => {
    const { walked } = await walk(52, vice);
    expect(oddColumns(walked, 52)).toEqual(odd);
    expect(walked.failure).toBeUndefined();
  });

  it.each<[string, Vice, string]>([
    ['tooBig', 'too-big-tables', 'answered tooBig'],
    ['no values', 'empty-replies', 'answered with no values'],
    ['nothing', { silentAbove: 0 }, 'did not answer'],
  ])('ends at once with an agent that answers %s', async (_, vice, words) => {
    const { walked, requests } = await walk(52, vice);
    expect(walked.failure?.words).toBe(words);
    expect(oddColumns(walked, 52)).toEqual(
      Object.keys(portColumns).map((name) => `${name}: 0 rows, ${words}`),
    );
    expect(requests).toBeLessThanOrEqual(8);
  });

  it.each([
    // The bound: values of 32 columns at 1,340 octets a reply, and one reply a group for its end.
    [52, 32],
    [8, 10],
    [300, 165],
  ])('reads a switch of %i ports in at most %i requests', async (ports, requestsMax) => {
    const { walked, requests } = await walk(ports);
    expect(oddColumns(walked, ports)).toEqual([]);
    expect(requests).toBeLessThanOrEqual(requestsMax);
  });

  it('remembers in its pace what the agent could not do', async () => {
    const first = await walk(8, { tooBigAbove: 10 });
    const again = await walk(8, { tooBigAbove: 10 }, first.pace);
    expect(first.pace.valuesMax).toBeLessThanOrEqual(10);
    expect(again.requests).toBeLessThan(first.requests);
    expect(oddColumns(again.walked, 8)).toEqual([]);
  });

  it('stops a column at its cap on rows and says so', async () => {
    const oid = '1.3.6.1.2.1.2.2.1.4';
    const objects = Array.from({ length: rowsPerColumnMax + 3 }, (_, i) => cell(oid, i + 1));
    const asker = new MemoryAsker({ objects });
    const walked = await bulkTable(asker, [portColumns.ifMtu], { pace: newPace('2c') });
    expect(walked.columns.get(oid)?.cells.size).toBe(8192);
    expect(walked.columns.get(oid)?.cut?.words).toBe('has more than 8192 rows');
  });

  it('takes the exceptions of RFC 3416 for an end, not for values', async () => {
    const { NoSuchInstance } = snmp.ObjectType;
    const asker: TableAsker = {
      next: () => Promise.reject(new Error('not asked')),
      bulk: async (oids) => ({
        ok: true,
        value: oids.map((oid) => [{ oid, type: NoSuchInstance, value: null }]),
      }),
    };
    const walked = await bulkTable(asker, columns, { pace: newPace('3') });
    expect(oddColumns(walked, 0)).toEqual([]);
  });

  it('reads any sparse table whole, whatever the agent caps', async () => {
    const shape = fc.record({
      rows: fc.array(fc.uniqueArray(fc.integer({ min: 1, max: 3000 }), { maxLength: 40 }), {
        minLength: 1,
        maxLength: 9,
      }),
      valueBytesMax: fc.integer({ min: 40, max: 3000 }),
      tooBigAbove: fc.integer({ min: 1, max: 80 }),
    });
    await fc.assert(
      fc.asyncProperty(shape, async ({ rows, valueBytesMax, tooBigAbove }) => {
        const wanted = rows.map((_, i) => ({ ...portColumns.ifMtu, oid: `1.3.6.1.9.${i + 1}` }));
        const objects = rows
          .flatMap((indexes, i) => indexes.map((index) => cell(`1.3.6.1.9.${i + 1}`, index)))
          .sort((a, b) => compareNumbers(a.numbers, b.numbers));
        const asker = new MemoryAsker({ objects, valueBytesMax, vice: { tooBigAbove } });
        const walked = await bulkTable(asker, wanted, { pace: newPace('2c') });
        const read = wanted.map(({ oid }) => [...(walked.columns.get(oid)?.cells.keys() ?? [])]);
        const sorted = rows.map((indexes) => [...indexes].sort((a, b) => a - b).map(String));
        expect(read).toEqual(sorted);
        expect(walked.failure).toBeUndefined();
      }),
      { numRuns: 150 },
    );
  });

  it('ends whatever the agent answers', async () => {
    const oid = fc
      .array(fc.integer({ min: 0, max: 4 }), { minLength: 1, maxLength: 4 })
      .map((tail) => `1.3.6.1.2.1.2.2.1.4.${tail.join('.')}`);
    const varbind = fc.record({ oid, type: fc.constantFrom(2, 4, 128, 130), value: fc.nat() });
    const reply = fc.oneof(
      fc.array(fc.array(varbind, { maxLength: 4 }), { maxLength: 4 }),
      fc.constantFrom('RequestTimedOutError', 'ResponseInvalidError'),
      fc.integer({ min: 1, max: 18 }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(reply, { minLength: 1, maxLength: 30 }), async (replies) => {
        let asked = 0;
        const ask = async (): Promise<Answer<Series>> => {
          asked += 1;
          if (asked > 2000) throw new Error('the walker does not end');
          const turn = replies[asked % replies.length];
          if (typeof turn === 'string') return failed({ name: turn });
          if (typeof turn === 'number') return failed({ name: 'RequestFailedError', status: turn });
          return { ok: true, value: turn ?? [] };
        };
        const objects = [portColumns.ifMtu, portColumns.ifType, portColumns.ifName];
        const walked = await bulkTable({ next: ask, bulk: ask }, objects, { pace: newPace('2c') });
        // At most one request for each OID below the column, and the ladder down to one value.
        expect(asked).toBeLessThan(900);
        expect(walked.columns.size).toBe(3);
      }),
      { numRuns: 300 },
    );
  });
});

function cell(column: string, index: number): Served {
  const oid = `${column}.${index}`;
  return { oid, numbers: oid.split('.').map(Number), type: snmp.ObjectType.Integer, value: 9216 };
}
