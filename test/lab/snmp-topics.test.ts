import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { NodeReading } from '../../src/collect/types.ts';
import { parseJson } from '../../src/facts/json.ts';
import { walkByHand } from './harness/by-hand.ts';
import { projectRoot } from './harness/cli.ts';
import { until } from './harness/command.ts';
import { type Lab, startLab, stopLab } from './harness/lab.ts';
import { inNs, mustInNs } from './harness/namespaces.ts';
import { planFor } from './harness/plan.ts';

const quay = '198.18.1.31';
const loft = '198.18.1.32';
const lldpRemSysName = '1.0.8802.1.1.2.1.4.1.1.9';
const dot1dBasePortIfIndex = '1.3.6.1.2.1.17.1.4.1.2';
const dot1dStpPortState = '1.3.6.1.2.1.17.2.15.1.3';
const dot1dTpFdbPort = '1.3.6.1.2.1.17.4.3.1.2';
const ifName = '1.3.6.1.2.1.31.1.1.1.1';
/** Maximum frame size of IEEE 802.3 (OUI 00-12-0F, subtype 4): 9018; VLAN of 802.1: 20. */
const customTlvs = [
  ['00,12,0f', '4', '23,3a'],
  ['00,80,c2', '1', '00,14'],
] as const;

let lab: Lab;
beforeAll(async () => {
  lab = await startLab(planFor({ secondWay: true }));
  const peer = lab.machine('loft');
  for (const [oui, subtype, info] of customTlvs) {
    await mustInNs(peer, [
      ...['lldpcli', 'configure', 'lldp', 'custom-tlv', 'add'],
      ...['oui', oui, 'subtype', subtype, 'oui-info', info],
    ]);
  }
  // Traffic, so that the bridges hear both hosts.
  await mustInNs(lab.machine('plot'), ['ping', '-c', '2', '-i', '0.2', '198.18.20.12']);
  for (const node of ['quay', 'loft']) await inNs(lab.machine(node), ['lldpcli', 'update']);
  await until(
    'both switches have heard each other',
    async () => {
      const names = await namesHeard(quay);
      return (
        names.filter((name) => name === 'loft').length >= 2 && (await namesHeard(loft)).length >= 2
      );
    },
    { limitMs: 60_000 },
  );
});
afterAll(() => stopLab(lab));

async function namesHeard(address: string): Promise<readonly string[]> {
  try {
    return [...(await walkByHand(lab.auditor, address, lldpRemSysName)).values()];
  } catch {
    return [];
  }
}

async function read(address: string): Promise<NodeReading> {
  const loader = `file://${join(projectRoot, 'node_modules/tsx/dist/loader.mjs')}`;
  const program = join(projectRoot, 'test/lab/harness/read-agent.ts');
  const argv = [process.execPath, '--import', loader, program, address];
  const outcome = parseJson(await mustInNs(lab.auditor, argv)) as {
    readonly ok: boolean;
    readonly reading: NodeReading;
  };
  expect(outcome.ok, JSON.stringify(outcome)).toBe(true);
  return outcome.reading;
}

/** What `lldpcli` prints of each port with a neighbour. */
async function lldpByHand(node: string) {
  const text = await mustInNs(lab.machine(node), [
    'lldpcli',
    '-f',
    'keyvalue',
    'show',
    'neighbors',
  ]);
  const values = new Map<string, string>();
  for (const line of text.split('\n')) {
    const [, port = '', key = '', value = ''] = /^lldp\.(\w+)\.([\w.-]+)=(.*)$/.exec(line) ?? [];
    if (port !== '') values.set(`${port} ${key}`, value);
  }
  return values;
}

describe('the SNMP reader on real agents', () => {
  it('hears the neighbours that lldpcli prints', async () => {
    const { neighbours = [], gaps } = await read(quay);
    expect(gaps['neighbours']).toBeUndefined();
    const byHand = await lldpByHand('quay');
    expect(neighbours.map(({ port }) => port)).toEqual(['xg8', 'xg9']);
    for (const one of neighbours) {
      const said = (key: string) => byHand.get(`${one.port} ${key}`);
      expect(one.chassisKind).toBe('mac');
      expect(one.chassis).toBe(said('chassis.mac'));
      expect(one.portIdKind).toBe('mac');
      expect(one.portId).toBe(said('port.mac'));
      expect(one.portText).toBe(said('port.descr'));
      expect(one.systemName).toBe(said('chassis.name'));
      expect(one.capabilities).toContain('bridge');
      expect(one.addresses).toContain(said('chassis.mgmt-ip'));
      // 23 3a, as it was given to lldpcli on the other switch.
      expect(one.frameMaxBytes).toBe(9018);
    }
  });

  it('hears the frame, the negotiation and the VLAN as snmpbulkwalk has them', async () => {
    const { neighbours = [] } = await read(quay);
    const walk = (oid: string) => walkByHand(lab.auditor, quay, oid).catch(() => new Map());
    const dot3 = '1.0.8802.1.1.2.1.5.4623.1.3';
    const frames = [...(await walk(`${dot3}.4.1.1`)).values()].map(Number);
    expect(neighbours.map(({ frameMaxBytes }) => frameMaxBytes)).toEqual(frames);
    const auto = [...(await walk(`${dot3}.1.1.2`)).values()].map((text) => text === '1');
    expect(neighbours.map(({ autoNegotiation }) => autoNegotiation)).toEqual(auto);
    const vlans = [...(await walk('1.0.8802.1.1.2.1.5.32962.1.3.1.1.1')).values()].map(Number);
    expect(vlans).toEqual([20, 20]);
    expect(neighbours.map(({ untaggedVlan }) => untaggedVlan)).toEqual(vlans);
  });

  it('knows the state in the spanning tree that ip prints', async () => {
    const reading = await read(loft);
    const state = (name: string) =>
      reading.ports.find((port) => port.name === name)?.facts.spanningTree;
    for (const name of ['xg1', 'xg8', 'xg9']) {
      const text = await mustInNs(lab.machine('loft'), ['bridge', 'link', 'show', 'dev', name]);
      expect(state(name), name).toBe(/ state (\w+)/.exec(text)?.[1]);
    }
    expect(state('xg9')).toBe('blocking');
    expect(state('mgmt0')).toBeUndefined();
    const states = await walkByHand(lab.auditor, loft, dot1dStpPortState);
    expect([...states.values()]).toContain('2');
  });

  it('finds a host behind the port of the bridge that has heard it', async () => {
    const reading = await read(quay);
    const forwarding = reading.forwarding ?? [];
    expect(reading.gaps['forwarding']).toBeUndefined();
    const shown = await mustInNs(lab.machine('quay'), ['bridge', 'fdb', 'show', 'br', 'br0']);
    const plot = (
      await mustInNs(lab.machine('plot'), ['cat', '/sys/class/net/eth0/address'])
    ).trim();
    expect(shown).toContain(`${plot} dev xg1`);
    expect(forwarding.filter(({ macs }) => macs.includes(plot)).map(({ port }) => port)).toEqual([
      'xg1',
    ]);
    const names = await walkByHand(lab.auditor, quay, ifName);
    const ports = await walkByHand(lab.auditor, quay, dot1dBasePortIfIndex);
    const octets = plot
      .split(':')
      .map((hex) => Number.parseInt(hex, 16))
      .join('.');
    const bridgePort = (await walkByHand(lab.auditor, quay, dot1dTpFdbPort)).get(octets) ?? '';
    expect(names.get(ports.get(bridgePort) ?? '')).toBe('xg1');
    const own = (await mustInNs(lab.machine('quay'), ['cat', '/sys/class/net/xg1/address'])).trim();
    expect(forwarding.flatMap(({ macs }) => macs)).not.toContain(own);
  });
});
