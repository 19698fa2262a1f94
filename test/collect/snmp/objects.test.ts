import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import snmp from 'net-snmp';
import { afterEach, describe, expect, it } from 'vitest';
import { type RunningAgent, startAgent } from '../../../mocks/snmp-agent/start-agent.ts';
import { objectText, snmpRequests } from '../../../src/collect/snmp/objects.ts';
import { readSnmp } from '../../../src/collect/snmp/read-snmp.ts';
import { everyTopic } from '../../../src/facts/read-topics.ts';
import { limits, port, quaySwitch, target } from './quay-switch.ts';

interface ModuleStore {
  loadFromFile(file: string): void;
  translate(oid: string, form: string): string;
}

const modules = new URL('../../../node_modules/net-snmp/lib/mibs/', import.meta.url);

describe('snmpRequests', () => {
  it('names objects as the published modules do (RFC 2863, RFC 3418 as shipped by net-snmp)', () => {
    const store: ModuleStore = snmp.createModuleStore();
    for (const module of ['IANAifType-MIB', 'IF-MIB']) {
      store.loadFromFile(fileURLToPath(new URL(`${module}.mib`, modules)));
    }
    const known = snmpRequests().filter(({ mib }) => mib === 'IF-MIB' || mib === 'SNMPv2-MIB');
    const translated = known.map(({ oid }) => store.translate(oid.replace(/\.0$/, ''), 'module'));
    expect(translated).toEqual(known.map(({ mib, name }) => `${mib}::${name}`));
    expect(known).toHaveLength(29);
  });

  it('has the columns of RFC 3635 and RFC 4836 and the engine scalars of RFC 3411', () => {
    const others = snmpRequests().filter(({ mib }) => mib !== 'IF-MIB' && mib !== 'SNMPv2-MIB');
    expect(Object.fromEntries(others.map(({ name, oid }) => [name, oid]))).toEqual({
      snmpEngineID: '1.3.6.1.6.3.10.2.1.1.0',
      snmpEngineBoots: '1.3.6.1.6.3.10.2.1.2.0',
      snmpEngineTime: '1.3.6.1.6.3.10.2.1.3.0',
      dot3StatsAlignmentErrors: '1.3.6.1.2.1.10.7.2.1.2',
      dot3StatsFCSErrors: '1.3.6.1.2.1.10.7.2.1.3',
      dot3StatsLateCollisions: '1.3.6.1.2.1.10.7.2.1.8',
      dot3StatsFrameTooLongs: '1.3.6.1.2.1.10.7.2.1.13',
      dot3StatsSymbolErrors: '1.3.6.1.2.1.10.7.2.1.18',
      dot3StatsDuplexStatus: '1.3.6.1.2.1.10.7.2.1.19',
      dot3PauseOperMode: '1.3.6.1.2.1.10.7.10.1.2',
      dot3InPauseFrames: '1.3.6.1.2.1.10.7.10.1.3',
      dot3OutPauseFrames: '1.3.6.1.2.1.10.7.10.1.4',
      ifMauType: '1.3.6.1.2.1.26.2.1.1.3',
      ifMauAutoNegAdminStatus: '1.3.6.1.2.1.26.5.1.1.1',
      ifMauAutoNegRemoteSignaling: '1.3.6.1.2.1.26.5.1.1.2',
      ifMauAutoNegCapabilityBits: '1.3.6.1.2.1.26.5.1.1.9',
      ifMauAutoNegCapAdvertisedBits: '1.3.6.1.2.1.26.5.1.1.10',
      ifMauAutoNegCapReceivedBits: '1.3.6.1.2.1.26.5.1.1.11',
    });
  });

  it('prints an object with its module and OID', () => {
    const mtu = snmpRequests().find(({ name }) => name === 'ifMtu');
    expect(mtu && objectText(mtu)).toBe('IF-MIB ifMtu (1.3.6.1.2.1.2.2.1.4)');
  });
});

describe('what leaves for an agent', () => {
  let agent: RunningAgent | undefined;
  afterEach(() => agent?.stop());

  it('is below the listed objects, and never a SET', async () => {
    const lag = port(20, { name: 'lag1', type: 161, connector: false, lower: [1, 2] });
    agent = await startAgent({ switch: quaySwitch([port(1), port(2), lag]) });
    const signal = new AbortController().signal;
    const outcome = await readSnmp(
      target(agent),
      { peers: [], topics: everyTopic },
      limits,
      signal,
    );
    expect(outcome.ok).toBe(true);
    const listed = snmpRequests().map(({ oid }) => oid);
    const below = (oid: string) => listed.some((own) => oid === own || oid.startsWith(`${own}.`));
    expect(agent.asked().filter((oid) => !below(oid))).toEqual([]);
    // Each listed object was asked for: none is listed for show.
    expect(listed.filter((oid) => !agent?.asked().includes(oid))).toEqual([]);
    expect(agent.sets()).toBe(0);
  });

  it('has no call that could write in the code that reads', () => {
    const folder = new URL('../../../src/collect/snmp/', import.meta.url);
    const files = readdirSync(folder).filter((name) => name.endsWith('.ts'));
    expect(files.length).toBeGreaterThan(10);
    const writing =
      /session\)?\s*[.?[]+\s*['"]?set\b|SetRequest|\.inform\(|\.trap\(|\.simpleGet\(|createAgent|createSubagent/i;
    const guilty = files.filter((name) =>
      writing.test(readFileSync(new URL(name, folder), 'utf8')),
    );
    expect(guilty).toEqual([]);
    expect(writing.test('this.#session.set([varbind], done)')).toBe(true);
  });

  it('would be refused and counted if it were a SET', async () => {
    agent = await startAgent({ switch: quaySwitch([port(1)]) });
    const session = snmp.createSession(agent.address, 'saltmarsh', {
      port: agent.port,
      version: snmp.Version2c,
    });
    const varbind = { oid: '1.3.6.1.2.1.2.2.1.7.1', type: snmp.ObjectType.Integer, value: 2 };
    const failed = await new Promise((resolve) => session.set([varbind], resolve));
    session.close();
    expect(failed).toMatchObject({ name: 'RequestFailedError', status: snmp.ErrorStatus.NoAccess });
    expect(agent.sets()).toBe(1);
  });
});
