import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { promisify } from 'node:util';
import snmp from 'net-snmp';
import { afterEach, describe, expect, it } from 'vitest';
import { answer } from '../../../mocks/snmp-agent/answer.ts';
import type { RequestPdu, ResponsePdu } from '../../../mocks/snmp-agent/message-codec.ts';
import { servedObjects, servedTable } from '../../../mocks/snmp-agent/served-objects.ts';
import { type RunningAgent, startAgent } from '../../../mocks/snmp-agent/start-agent.ts';
import { plainSwitch } from './quay-switch.ts';

const bulkWalk = '/usr/bin/snmpbulkwalk';

function bulk(oids: readonly string[], nonRepeaters: number, maxRepetitions: number, bytes = 1400) {
  const response: ResponsePdu = { varbinds: [] };
  const request: RequestPdu = {
    type: snmp.PduType.GetBulkRequest,
    varbinds: oids.map((oid) => ({ oid })),
    nonRepeaters,
    maxRepetitions,
    getResponsePduForRequest: () => response,
  };
  answer(request, response, { table: servedTable(plainSwitch(2)), valueBytesMax: bytes });
  return response;
}

const oidsOf = ({ varbinds }: ResponsePdu) => varbinds.map(({ oid }) => oid);
const ifMtu = '1.3.6.1.2.1.2.2.1.4';
const ifSpeed = '1.3.6.1.2.1.2.2.1.5';

describe('GETBULK of the simulated agent', () => {
  it('gives non-repeaters once and repeaters row by row (RFC 3416, 4.2.3)', () => {
    // The shape of the RFC's example: one non-repeater, two repeaters, two repetitions.
    expect(oidsOf(bulk(['1.3.6.1.2.1.1.3', ifMtu, ifSpeed], 1, 2))).toEqual([
      '1.3.6.1.2.1.1.3.0',
      `${ifMtu}.1`,
      `${ifSpeed}.1`,
      `${ifMtu}.2`,
      `${ifSpeed}.2`,
    ]);
  });

  it('goes on in the next column at the end of one', () => {
    expect(oidsOf(bulk([ifMtu], 0, 3))).toEqual([`${ifMtu}.1`, `${ifMtu}.2`, `${ifSpeed}.1`]);
  });

  it('ends with endOfMibView, once', () => {
    const { varbinds } = bulk(['1.3.6.1.6.3.10.2.1.2.0'], 0, 9);
    expect(varbinds.map(({ oid, type }) => [oid, type])).toEqual([
      ['1.3.6.1.6.3.10.2.1.3.0', snmp.ObjectType.Integer],
      ['1.3.6.1.6.3.10.2.1.3.0', snmp.ObjectType.EndOfMibView],
    ]);
  });

  it('cuts a reply that grows too large, in the middle of a row', () => {
    expect(oidsOf(bulk([ifMtu, ifSpeed], 0, 2, 65))).toEqual([
      `${ifMtu}.1`,
      `${ifSpeed}.1`,
      `${ifMtu}.2`,
    ]);
  });

  it('says tooBig only when not even one value fits', () => {
    expect(bulk([ifMtu], 0, 2, 10)).toMatchObject({ errorStatus: 1, varbinds: [] });
  });
});

describe('the simulated agent', () => {
  let agent: RunningAgent | undefined;
  afterEach(() => agent?.stop());

  it.skipIf(!existsSync(bulkWalk))('is walked to its end by snmpbulkwalk of Net-SNMP', async () => {
    agent = await startAgent({ switch: plainSwitch(12) });
    const at = `${agent.address}:${agent.port}`;
    const args = ['-v2c', '-c', 'saltmarsh', '-On', '-Oe', at, '1.3.6.1'];
    const { stdout } = await promisify(execFile)(bulkWalk, args, { timeout: 15_000 });
    const printed = stdout.trim().split('\n');
    expect(printed.at(-1)).toContain('No more variables left in this MIB View');
    const lines = printed.slice(0, -1).filter((line) => / = /.test(line));
    const walked = lines.map((line) => line.slice(1, line.indexOf(' = ')));
    expect(walked).toEqual(servedObjects(plainSwitch(12)).map(({ oid }) => oid));
    expect(lines).toContain(`.${ifMtu}.12 = INTEGER: 9216`);
    expect(lines).toContain(`.${ifSpeed}.12 = Gauge32: 4294967295`);
  });

  it('keeps its replies within one datagram', async () => {
    agent = await startAgent({ switch: plainSwitch(60) });
    const session = snmp.createSession(agent.address, 'saltmarsh', {
      port: agent.port,
      version: snmp.Version2c,
    });
    const asked = new Promise((done) => session.getBulk([ifMtu, ifSpeed], 0, 200, done));
    expect(await asked).toBeNull();
    session.close();
    expect(agent.longestReplyBytes()).toBeGreaterThan(1200);
    expect(agent.longestReplyBytes()).toBeLessThanOrEqual(1472);
  });

  it('runs two hundred times in one process', async () => {
    const shared = plainSwitch(1);
    const agents = await Promise.all(
      Array.from({ length: 200 }, () => startAgent({ switch: shared })),
    );
    expect(new Set(agents.map(({ port }) => port)).size).toBe(200);
    await Promise.all(agents.map((one) => one.stop()));
  });
});
