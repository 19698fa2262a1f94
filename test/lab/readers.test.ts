import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readHost as readByScript } from '../../src/collect/read-host.ts';
import { scriptFor } from '../../src/collect/script-for.ts';
import { defaultReadLimits, type NodeReading, type RunScript } from '../../src/collect/types.ts';
import { parseJson } from '../../src/facts/json.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { everyTopic } from '../../src/facts/read-topics.ts';
import { ipByHand, sysfsByHand, walkByHand } from './harness/by-hand.ts';
import { projectRoot } from './harness/cli.ts';
import { disguise, undisguise } from './harness/disguise.ts';
import { type Lab, startLab, stopLab } from './harness/lab.ts';
import { inNs, mustInNs } from './harness/namespaces.ts';
import { planFor } from './harness/plan.ts';
import { snmpUsers } from './harness/snmpd.ts';
import { auditorHome, keyFile } from './harness/users.ts';

let lab: Lab;
beforeAll(async () => {
  lab = await startLab(planFor({ secondWay: true, hostBridgeOn: ['vault'] }));
});
afterAll(() => stopLab(lab));

type PortFact = keyof PortReadFacts;
type Value = string | number | boolean | undefined;

describe('the SNMP reader against snmpbulkwalk (Net-SNMP) on the same agent', () => {
  const number = (text: string): Value => (/^\d+$/.test(text) ? Number(text) : text);
  const ifTable = '1.3.6.1.2.1.2.2.1';
  const ifXTable = '1.3.6.1.2.1.31.1.1.1';
  const dot3Stats = '1.3.6.1.2.1.10.7.2.1';
  /** Fact, column, and what the column's text means (RFC 2863, RFC 3635). */
  const columns: readonly (readonly [PortFact, string, (text: string) => Value])[] = [
    ['ifType', `${ifTable}.3`, number],
    ['mtuBytes', `${ifTable}.4`, number],
    ['macAddress', `${ifTable}.6`, macOf],
    ['adminUp', `${ifTable}.7`, (text) => text === '1'],
    ['operUp', `${ifTable}.8`, (text) => text === '1'],
    ['speedMbps', `${ifXTable}.15`, number],
    ['duplex', `${dot3Stats}.19`, (text) => [undefined, undefined, 'half', 'full'][Number(text)]],
  ];

  function macOf(text: string): Value {
    const bytes = text.toLowerCase().split(' ');
    return bytes.length === 6 ? bytes.join(':') : undefined;
  }

  it.each([
    ['v2c over IPv4', '198.18.1.31', []],
    ['v2c over IPv6', '2001:2:0:1::31', []],
    ...snmpUsers.flatMap(
      ({ user, auth, privacy }) =>
        [
          [`v3 ${auth} ${privacy} over IPv4`, '198.18.1.31', [user, auth, privacy]],
          [`v3 ${auth} ${privacy} over IPv6`, '2001:2:0:1::31', [user, auth, privacy]],
        ] as const,
    ),
  ] as const)('%s', async (_name, address, user) => {
    const reading = await readAgent(address, user);
    const names = await walkByHand(lab.auditor, '198.18.1.31', `${ifXTable}.1`);
    const sorted = [...names.values()].sort(natural);
    expect(reading.ports.map(({ name }) => name)).toEqual(sorted);
    expect(sorted).toEqual(['br0', 'lo', 'mgmt0', 'xg1', 'xg8', 'xg9']);
    for (const [fact, oid, meaning] of columns) {
      const cells = await walkByHand(lab.auditor, '198.18.1.31', oid);
      const byHand = [...names].map(([index, name]) => {
        const text = cells.get(index);
        return [name, text === undefined ? undefined : meaning(text)];
      });
      const read = [...names.values()].map((name) => [name, factOf(reading, name, fact)]);
      expect(Object.fromEntries(read), fact).toEqual(Object.fromEntries(byHand));
    }
    expect(reading.facts.systemName).toBe('quay');
    expect(reading.facts.engineId).toBe(`80001f8804${Buffer.from('quay').toString('hex')}`);
  });

  it('counts octets, frames, drops and errors between two readings by hand', async () => {
    const counters: readonly (readonly [PortFact, readonly string[]])[] = [
      ['rxOctets', [`${ifXTable}.6`]],
      ['txOctets', [`${ifXTable}.10`]],
      ['rxFrames', [7, 8, 9].map((column) => `${ifXTable}.${column}`)],
      ['txFrames', [11, 12, 13].map((column) => `${ifXTable}.${column}`)],
      ['rxDropped', [`${ifTable}.13`]],
      ['rxErrors', [`${ifTable}.14`]],
      ['txDropped', [`${ifTable}.19`]],
      ['txErrors', [`${ifTable}.20`]],
    ];
    const names = await walkByHand(lab.auditor, '198.18.1.31', `${ifXTable}.1`);
    const sums = async () => {
      const sum = new Map<string, number>();
      for (const [fact, parts] of counters) {
        for (const part of parts) {
          const column = await walkByHand(lab.auditor, '198.18.1.31', part);
          for (const [index, text] of column) {
            const key = `${names.get(index)} ${fact}`;
            sum.set(key, (sum.get(key) ?? 0) + Number(text));
          }
        }
      }
      return sum;
    };
    const before = await sums();
    const reading = await readAgent('198.18.1.31', []);
    const after = await sums();
    expect(before.size).toBe(48);
    for (const [key, least] of before) {
      const [name = '', fact] = key.split(' ');
      const read = factOf(reading, name, fact as PortFact);
      expect(read, key).toBeGreaterThanOrEqual(least);
      expect(read, key).toBeLessThanOrEqual(after.get(key) ?? -1);
    }
    expect(before.get('xg1 rxOctets')).toBeGreaterThan(0);
  });
});

describe('the Linux reader, over a real sshd, against ip and /sys by hand', () => {
  it.each([
    ['plot', ['eth0', 'lo', 'mgmt0'], '198.18.20.12'],
    ['vault', ['br0', 'eth0', 'lo', 'mgmt0'], '198.18.20.11'],
  ] as const)('%s', async (node, names, peer) => {
    const machine = lab.machine(node);
    const reading = await readHost(node, peer);
    expect(reading.ports.map(({ name }) => name)).toEqual(names);
    const links = await ipByHand(machine, ['-d', 'link']);
    const addresses = await ipByHand(machine, ['addr']);
    for (const name of names) {
      const link = links.find((each) => each['ifname'] === name) ?? {};
      const flags = link['flags'] as readonly string[];
      const read = (fact: PortFact) => factOf(reading, name, fact);
      expect({
        mtuBytes: read('mtuBytes'),
        mtuMinBytes: read('mtuMinBytes'),
        mtuMaxBytes: read('mtuMaxBytes'),
        ifIndex: read('ifIndex'),
        macAddress: read('macAddress'),
        adminUp: read('adminUp'),
        operUp: read('operUp'),
        carrierChanges: read('carrierChanges'),
        txErrors: read('txErrors'),
        rxTooLong: read('rxTooLong'),
        addresses: read('addresses'),
      }).toEqual({
        mtuBytes: Number(await sysfsByHand(machine, name, 'mtu')),
        mtuMinBytes: link['min_mtu'] === 0 ? undefined : link['min_mtu'],
        mtuMaxBytes: link['max_mtu'] === 0 ? undefined : link['max_mtu'],
        ifIndex: Number(await sysfsByHand(machine, name, 'ifindex')),
        macAddress: name === 'lo' ? undefined : await sysfsByHand(machine, name, 'address'),
        adminUp: flags.includes('UP'),
        operUp: flags.includes('LOWER_UP'),
        carrierChanges: Number(await sysfsByHand(machine, name, 'carrier_changes')),
        txErrors: Number(await sysfsByHand(machine, name, 'statistics/tx_errors')),
        rxTooLong: Number(await sysfsByHand(machine, name, 'statistics/rx_length_errors')),
        addresses: addressesOf(addresses.find((each) => each['ifname'] === name)),
      });
    }
    const [route] = await ipByHand(machine, ['route', 'get', peer]);
    expect(reading.routes).toEqual([
      { to: peer, device: route?.['dev'], from: route?.['prefsrc'] },
    ]);
    expect(reading.facts.systemName).toBe(node);
  });

  it.each([
    ['BusyBox has the only ip', ['mount', '--bind', '/bin/busybox']],
    ['there is no ip', ['mount', '--bind', '/etc/hostname']],
  ] as const)('tells the same of MTU, state and MAC where %s', async (_name, over) => {
    const machine = lab.machine('vault');
    const facts = ['mtuBytes', 'macAddress', 'adminUp', 'operUp', 'ifIndex', 'lowerPorts'] as const;
    const told = (reading: NodeReading) =>
      ['br0', 'eth0', 'mgmt0'].map((name) => facts.map((fact) => factOf(reading, name, fact)));
    const usual = told(await readHost('vault', '198.18.20.11'));
    expect(usual[1]?.slice(0, 4)).toEqual([9000, '02:00:5e:00:0c:05', true, true]);
    const ip = (await mustInNs(machine, ['readlink', '-f', '/sbin/ip'])).trim();
    await mustInNs(machine, [...over, ip]);
    const reading = await readHost('vault', '198.18.20.11');
    await mustInNs(machine, ['umount', ip]);
    expect(told(reading)).toEqual(usual);
  });

  it('stacks the bridge of vault on its member, and calls a cable of the lab virtual', async () => {
    const reading = await readHost('vault', '198.18.20.11');
    expect(factOf(reading, 'br0', 'lowerPorts')).toEqual(['eth0']);
    expect(factOf(reading, 'br0', 'kind')).toBe('bridge');
    expect(factOf(reading, 'eth0', 'kind')).toBe('virtual');
    expect(factOf(reading, 'eth0', 'speedMbps')).toBe(undefined);
  });

  it('reads speed and duplex as ethtool prints them once a device is behind the port', async () => {
    await disguise(lab, ['plot', 'eth0'], { speedMbps: 1000, duplex: 'Half' });
    const reading = await readHost('plot', '198.18.20.12');
    const text = await mustInNs(lab.machine('plot'), ['ethtool', 'eth0']);
    await undisguise(lab, ['plot', 'eth0']);
    expect(text).toMatch(/Speed: 1000Mb\/s\n\tDuplex: Half\n\tAuto-negotiation: on/);
    const read = (fact: PortFact) => factOf(reading, 'eth0', fact);
    expect(read('kind')).toBe('physical');
    expect([read('speedMbps'), read('duplex'), read('autoNegotiation')]).toEqual([
      1000,
      'half',
      true,
    ]);
    expect(read('driver')).toBe('copper10g');
    expect(read('mtuBytes')).toBe(9000);
  });

  function addressesOf(entry: Readonly<Record<string, unknown>> | undefined): readonly string[] {
    const infos = entry?.['addr_info'] as readonly Readonly<Record<string, unknown>>[];
    return infos
      .filter((info) => info['scope'] !== 'link')
      .map((info) => `${info['local']}/${info['prefixlen']}`);
  }
});

async function readAgent(address: string, user: readonly string[]): Promise<NodeReading> {
  const loader = `file://${join(projectRoot, 'node_modules/tsx/dist/loader.mjs')}`;
  const program = join(projectRoot, 'test/lab/harness/read-agent.ts');
  const argv = [process.execPath, '--import', loader, program, address, ...user];
  const outcome = parseJson(await mustInNs(lab.auditor, argv)) as {
    readonly ok: boolean;
    readonly reading: NodeReading;
  };
  expect(outcome.ok, JSON.stringify(outcome)).toBe(true);
  return outcome.reading;
}

async function readHost(node: string, peer: string): Promise<NodeReading> {
  const argv = [
    ...['ssh', '-F', 'none', '-o', 'BatchMode=yes', '-i', keyFile(lab)],
    ...['-o', `UserKnownHostsFile=${auditorHome(lab)}/.ssh/known_hosts`],
    ...[`auditor@198.18.1.${lab.node(node).number}`, 'sh', '-s'],
  ];
  const byOpenSsh: RunScript = async (script) => {
    const ran = await inNs(lab.auditor, argv, { input: scriptFor(script, 'sh') });
    expect(ran.stderr).toBe('');
    return { ok: true, output: Buffer.from(ran.stdout, 'utf8') };
  };
  const { signal } = new AbortController();
  const outcome = await readByScript(
    byOpenSsh,
    { peers: [peer], topics: everyTopic },
    defaultReadLimits,
    signal,
  );
  if (!outcome.ok) throw new Error(`lab: ${node}: ${outcome.trouble.seen}`);
  return outcome.reading;
}

function factOf(reading: NodeReading, port: string, fact: PortFact): unknown {
  return reading.ports.find(({ name }) => name === port)?.facts[fact];
}

function natural(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true });
}
