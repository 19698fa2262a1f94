import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import snmp from 'net-snmp';
import { afterEach, describe, expect, it } from 'vitest';
import { type RunningAgent, startAgent } from '../../../mocks/snmp-agent/start-agent.ts';
import { readSnmp } from '../../../src/collect/snmp/read-snmp.ts';
import { objectText } from '../../../src/collect/snmp/snmp-object.ts';
import { snmpRequests } from '../../../src/collect/snmp/snmp-requests.ts';
import { everyTopic } from '../../../src/facts/read-topics.ts';
import { limits, port, quaySwitch, target } from './quay-switch.ts';

const requests = () => snmpRequests().flatMap(({ objects }) => objects);

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
    const known = requests().filter(({ mib }) => mib === 'IF-MIB' || mib === 'SNMPv2-MIB');
    const translated = known.map(({ oid }) => store.translate(oid.replace(/\.0$/, ''), 'module'));
    expect(translated).toEqual(known.map(({ mib, name }) => `${mib}::${name}`));
    expect(known).toHaveLength(29);
  });

  // As read in the modules; those that stand here from memory have a note beside their list.
  it('has the columns of RFC 2819, 3433, 3635, 4188, 4363, 4836, 6933 and of IEEE 802.1', () => {
    const others = requests().filter(({ mib }) => mib !== 'IF-MIB' && mib !== 'SNMPv2-MIB');
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
      dot3HCStatsAlignmentErrors: '1.3.6.1.2.1.10.7.11.1.1',
      dot3HCStatsFCSErrors: '1.3.6.1.2.1.10.7.11.1.2',
      dot3HCStatsFrameTooLongs: '1.3.6.1.2.1.10.7.11.1.4',
      dot3HCStatsSymbolErrors: '1.3.6.1.2.1.10.7.11.1.6',
      ifMauType: '1.3.6.1.2.1.26.2.1.1.3',
      ifJackType: '1.3.6.1.2.1.26.2.2.1.2',
      ifMauAutoNegAdminStatus: '1.3.6.1.2.1.26.5.1.1.1',
      ifMauAutoNegRemoteSignaling: '1.3.6.1.2.1.26.5.1.1.2',
      ifMauAutoNegCapabilityBits: '1.3.6.1.2.1.26.5.1.1.9',
      ifMauAutoNegCapAdvertisedBits: '1.3.6.1.2.1.26.5.1.1.10',
      ifMauAutoNegCapReceivedBits: '1.3.6.1.2.1.26.5.1.1.11',
      dot1dBasePortIfIndex: '1.3.6.1.2.1.17.1.4.1.2',
      dot1dBasePortMtuExceededDiscards: '1.3.6.1.2.1.17.1.4.1.5',
      dot1dStpPortState: '1.3.6.1.2.1.17.2.15.1.3',
      dot1dTpFdbPort: '1.3.6.1.2.1.17.4.3.1.2',
      dot1dTpFdbStatus: '1.3.6.1.2.1.17.4.3.1.3',
      dot1qTpFdbPort: '1.3.6.1.2.1.17.7.1.2.2.1.2',
      dot1qTpFdbStatus: '1.3.6.1.2.1.17.7.1.2.2.1.3',
      dot1qVlanFdbId: '1.3.6.1.2.1.17.7.1.4.2.1.3',
      dot1qVlanCurrentEgressPorts: '1.3.6.1.2.1.17.7.1.4.2.1.4',
      dot1qVlanCurrentUntaggedPorts: '1.3.6.1.2.1.17.7.1.4.2.1.5',
      dot1qVlanStaticEgressPorts: '1.3.6.1.2.1.17.7.1.4.3.1.2',
      dot1qVlanStaticUntaggedPorts: '1.3.6.1.2.1.17.7.1.4.3.1.4',
      dot1qPvid: '1.3.6.1.2.1.17.7.1.4.5.1.1',
      etherStatsDataSource: '1.3.6.1.2.1.16.1.1.1.2',
      etherStatsOversizePkts: '1.3.6.1.2.1.16.1.1.1.10',
      etherStatsFragments: '1.3.6.1.2.1.16.1.1.1.11',
      etherStatsJabbers: '1.3.6.1.2.1.16.1.1.1.12',
      dot3adAggPortListPorts: '1.2.840.10006.300.43.1.1.2.1.1',
      dot3adAggPortPartnerOperSystemID: '1.2.840.10006.300.43.1.2.1.1.9',
      dot3adAggPortAttachedAggID: '1.2.840.10006.300.43.1.2.1.1.13',
      dot3adAggPortActorOperState: '1.2.840.10006.300.43.1.2.1.1.21',
      dot3adAggPortPartnerOperState: '1.2.840.10006.300.43.1.2.1.1.23',
      entPhysicalDescr: '1.3.6.1.2.1.47.1.1.1.1.2',
      entPhysicalContainedIn: '1.3.6.1.2.1.47.1.1.1.1.4',
      entPhysicalClass: '1.3.6.1.2.1.47.1.1.1.1.5',
      entPhysicalName: '1.3.6.1.2.1.47.1.1.1.1.7',
      entAliasMappingIdentifier: '1.3.6.1.2.1.47.1.3.2.1.2',
      entPhySensorType: '1.3.6.1.2.1.99.1.1.1.1',
      entPhySensorScale: '1.3.6.1.2.1.99.1.1.1.2',
      entPhySensorPrecision: '1.3.6.1.2.1.99.1.1.1.3',
      entPhySensorValue: '1.3.6.1.2.1.99.1.1.1.4',
      entPhySensorOperStatus: '1.3.6.1.2.1.99.1.1.1.5',
      entPhySensorUnitsDisplay: '1.3.6.1.2.1.99.1.1.1.6',
      lldpLocPortIdSubtype: '1.0.8802.1.1.2.1.3.7.1.2',
      lldpLocPortId: '1.0.8802.1.1.2.1.3.7.1.3',
      lldpLocPortDesc: '1.0.8802.1.1.2.1.3.7.1.4',
      lldpRemChassisIdSubtype: '1.0.8802.1.1.2.1.4.1.1.4',
      lldpRemChassisId: '1.0.8802.1.1.2.1.4.1.1.5',
      lldpRemPortIdSubtype: '1.0.8802.1.1.2.1.4.1.1.6',
      lldpRemPortId: '1.0.8802.1.1.2.1.4.1.1.7',
      lldpRemPortDesc: '1.0.8802.1.1.2.1.4.1.1.8',
      lldpRemSysName: '1.0.8802.1.1.2.1.4.1.1.9',
      lldpRemSysDesc: '1.0.8802.1.1.2.1.4.1.1.10',
      lldpRemSysCapEnabled: '1.0.8802.1.1.2.1.4.1.1.12',
      lldpRemManAddrIfSubtype: '1.0.8802.1.1.2.1.4.2.1.3',
      lldpXdot3RemPortAutoNegEnabled: '1.0.8802.1.1.2.1.5.4623.1.3.1.1.2',
      lldpXdot3RemPortAutoNegAdvertisedCap: '1.0.8802.1.1.2.1.5.4623.1.3.1.1.3',
      lldpXdot3RemPortOperMauType: '1.0.8802.1.1.2.1.5.4623.1.3.1.1.4',
      lldpXdot3RemMaxFrameSize: '1.0.8802.1.1.2.1.5.4623.1.3.4.1.1',
      lldpXdot1RemPortVlanId: '1.0.8802.1.1.2.1.5.32962.1.3.1.1.1',
      lldpV2LocPortIdSubtype: '1.3.111.2.802.1.1.13.1.3.7.1.2',
      lldpV2RemChassisIdSubtype: '1.3.111.2.802.1.1.13.1.4.1.1.5',
      lldpV2RemChassisId: '1.3.111.2.802.1.1.13.1.4.1.1.6',
      lldpV2RemPortIdSubtype: '1.3.111.2.802.1.1.13.1.4.1.1.7',
      lldpV2RemPortId: '1.3.111.2.802.1.1.13.1.4.1.1.8',
      lldpV2RemPortDesc: '1.3.111.2.802.1.1.13.1.4.1.1.9',
      lldpV2RemSysName: '1.3.111.2.802.1.1.13.1.4.1.1.10',
      lldpV2RemSysDesc: '1.3.111.2.802.1.1.13.1.4.1.1.11',
      lldpV2RemSysCapEnabled: '1.3.111.2.802.1.1.13.1.4.1.1.13',
      lldpV2RemManAddrIfSubtype: '1.3.111.2.802.1.1.13.1.4.2.1.3',
      lldpV2Xdot3RemPortAutoNegEnabled: '1.3.111.2.802.1.1.13.1.5.4623.1.3.1.1.2',
      lldpV2Xdot3RemPortAutoNegAdvertisedCap: '1.3.111.2.802.1.1.13.1.5.4623.1.3.1.1.3',
      lldpV2Xdot3RemPortOperMauType: '1.3.111.2.802.1.1.13.1.5.4623.1.3.1.1.4',
      lldpV2Xdot3RemMaxFrameSize: '1.3.111.2.802.1.1.13.1.5.4623.1.3.3.1.1',
      lldpV2Xdot1RemPortVlanId: '1.3.111.2.802.1.1.13.1.5.32962.1.3.1.1.1',
    });
  });

  it('prints an object with its module and OID', () => {
    const mtu = requests().find(({ name }) => name === 'ifMtu');
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
    const listed = requests().map(({ oid }) => oid);
    const heads = snmpRequests().map(({ topics, objects }) =>
      topics === undefined ? objects : objects.slice(0, 1),
    );
    const below = (oid: string) => listed.some((own) => oid === own || oid.startsWith(`${own}.`));
    expect(agent.asked().filter((oid) => !below(oid))).toEqual([]);
    // Each table was asked for or looked for: none is listed for show.
    const firsts = heads.flat().map(({ oid }) => oid);
    expect(firsts.filter((oid) => !agent?.asked().includes(oid))).toEqual([]);
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
