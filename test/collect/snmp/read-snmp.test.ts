import { afterEach, describe, expect, it } from 'vitest';
import type { DescribedSwitch } from '../../../mocks/snmp-agent/described-switch.ts';
import {
  type AgentSettings,
  type RunningAgent,
  startAgent,
} from '../../../mocks/snmp-agent/start-agent.ts';
import type { Vice } from '../../../mocks/snmp-agent/vices.ts';
import { readSnmp } from '../../../src/collect/snmp/read-snmp.ts';
import type { SnmpTarget } from '../../../src/collect/snmp/target.ts';
import type { NodeReading, ReadLimits, ReadOutcome } from '../../../src/collect/types.ts';
import { dictionary } from '../../../src/facts/dictionary.ts';
import { everyTopic } from '../../../src/facts/read-topics.ts';
import {
  limits,
  patientTiming,
  plainSwitch,
  port,
  quaySwitch,
  quickTiming,
  secret,
  target,
} from './quay-switch.ts';

let agent: RunningAgent | undefined;
afterEach(async () => {
  await agent?.stop();
  agent = undefined;
});

async function outcomeOf(
  settings: AgentSettings,
  { change = {}, within = limits }: { change?: object; within?: ReadLimits } = {},
): Promise<ReadOutcome> {
  agent = await startAgent(settings);
  const timing = settings.vice === undefined ? patientTiming : quickTiming;
  const asked: SnmpTarget = { ...target(agent), timing, ...change };
  return readSnmp(asked, { peers: [], topics: everyTopic }, within, new AbortController().signal);
}

async function readingOf(described: DescribedSwitch, vice?: Vice): Promise<NodeReading> {
  const outcome = await outcomeOf({ switch: described, ...(vice === undefined ? {} : { vice }) });
  if (!outcome.ok) throw new Error(outcome.trouble.seen);
  return outcome.reading;
}

function portOf(reading: NodeReading, name: string) {
  const found = reading.ports.find((one) => one.name === name);
  if (found === undefined) throw new Error(`no port ${name}`);
  return {
    facts: found.facts,
    gap: (fact: string) => found.gaps?.[fact] ?? reading.portGaps[fact],
  };
}

const described = quaySwitch([
  port(1, {
    name: 'xg1',
    alias: 'plot-1 \u001b[31mdesk',
    counters: {
      rxOctets: '9007199254740991',
      txOctets: 2 ** 40,
      rxFrames: 5,
      txFrames: 6,
      rxErrors: 7,
      txErrors: 8,
      rxDropped: 9,
      txDropped: 10,
      rxCrcErrors: 11,
      rxAlignmentErrors: 12,
      rxTooLong: 13,
      rxSymbolErrors: 14,
      lateCollisions: 15,
      rxPauseFrames: 16,
      txPauseFrames: 17,
    },
  }),
  port(2, { name: 'xg2', oper: 'down', speedMbps: 10 }),
  port(10, { name: 'g10', speedMbps: 100, duplex: 'half', mtu: 1500 }),
  port(11, { name: 'g11', duplex: 'unknown', oper: 'unknown', mac: '' }),
  port(12, { name: 'g12', speedMbps: 0, mtu: 0, admin: 'down' }),
  port(100, { name: 'lag1', type: 161, connector: false, lower: [1, 2] }),
  port(101, { name: 'vlan20', type: 135, connector: false, lower: [100] }),
  port(102, { name: 'lag2', type: 161, connector: false }),
]);

describe('readSnmp on a described switch', () => {
  it('gives the facts of the node', async () => {
    const reading = await readingOf(described);
    expect(reading.facts).toEqual({
      systemKind: 'snmp',
      systemName: 'quay-sw.office.example',
      systemText: 'Quay switch, 8 ports, software 4.2',
      sysObjectId: '1.3.6.1.4.1.32473.1.8',
      engineId: '80007ed90402005e0001',
      engineBoots: 7,
      uptimeSeconds: 86_400,
    });
    expect(reading.gaps).toEqual({
      osVersion: { reason: 'unasked', words: 'not read over SNMP' },
      serviceOrder: { reason: 'unasked', words: 'not read over SNMP' },
      hostKey: { reason: 'unasked', words: 'not read over SNMP' },
    });
    expect(reading.sources['uptimeSeconds']).toBe('SNMPv2-MIB sysUpTime (1.3.6.1.2.1.1.3.0)');
  });

  it('gives every fact of a port', async () => {
    const reading = await readingOf(described);
    expect(portOf(reading, 'xg1').facts).toEqual({
      ifIndex: 1,
      ifType: 6,
      kind: 'physical',
      alias: 'plot-1 [31mdesk',
      macAddress: '02:00:5e:00:00:01',
      adminUp: true,
      operUp: true,
      mtuBytes: 9216,
      speedMbps: 10_000,
      duplex: 'full',
      rxOctets: 2 ** 53 - 1,
      txOctets: 2 ** 40,
      rxFrames: 5,
      txFrames: 6,
      rxErrors: 7,
      txErrors: 8,
      rxDropped: 9,
      txDropped: 10,
      rxCrcErrors: 11,
      rxAlignmentErrors: 12,
      rxTooLong: 13,
      rxSymbolErrors: 14,
      lateCollisions: 15,
      rxPauseFrames: 16,
      txPauseFrames: 17,
      pauseRx: false,
      pauseTx: false,
      phyText: '10GBASE-T',
      autoNegotiation: true,
      partnerAutoNegotiation: true,
      supportedModes: ['10000baseT/Full', '1000baseT/Full', '100baseT/Full'],
      advertisedModes: ['10000baseT/Full', '1000baseT/Full', '100baseT/Full'],
      partnerModes: ['10000baseT/Full', '1000baseT/Full', '100baseT/Full'],
    });
    expect(reading.portSources['mtuBytes']).toBe('IF-MIB ifMtu (1.3.6.1.2.1.2.2.1.4)');
    expect(reading.portSources['duplex']).toBe(
      'EtherLike-MIB dot3StatsDuplexStatus (1.3.6.1.2.1.10.7.2.1.19)',
    );
  });

  it('lists the ports in the order of their names', async () => {
    const { ports } = await readingOf(described);
    expect(ports.map(({ name }) => name)).toEqual([
      'g10',
      'g11',
      'g12',
      'lag1',
      'lag2',
      'vlan20',
      'xg1',
      'xg2',
    ]);
  });

  it.each([
    ['xg2', 'speedMbps', 'down', 'ifOperStatus is not up'],
    ['xg2', 'duplex', 'down', 'ifOperStatus is not up'],
    ['xg2', 'alias', 'unsupported', 'none was given'],
    ['g11', 'duplex', 'unsupported', 'dot3StatsDuplexStatus is unknown(1)'],
    ['g11', 'operUp', 'unsupported', 'ifOperStatus is unknown(4)'],
    ['g11', 'speedMbps', 'unsupported', 'ifOperStatus is unknown(4)'],
    ['g11', 'macAddress', 'unsupported', 'ifPhysAddress is empty'],
    ['g12', 'mtuBytes', 'unsupported', 'ifMtu is 0'],
    ['g12', 'speedMbps', 'unsupported', 'ifHighSpeed 0, ifSpeed 0: not known'],
    ['lag2', 'lowerPorts', 'unsupported', 'ifStackTable lists nothing below this port'],
    ['xg1', 'addresses', 'unasked', 'not read over SNMP'],
    ['xg1', 'busText', 'unasked', 'not read over SNMP'],
    ['xg2', 'phyText', 'down', 'ifOperStatus is not up'],
    ['xg2', 'partnerModes', 'down', 'ifOperStatus is not up'],
    ['xg2', 'pauseRx', 'down', 'ifOperStatus is not up'],
  ])('says why %s has no %s: %s', async (name, fact, reason, words) => {
    const one = portOf(await readingOf(described), name);
    expect(Object.keys(one.facts)).not.toContain(fact);
    expect(one.gap(fact)).toEqual({ reason, words });
  });

  it('tells half duplex, layers and what is switched off', async () => {
    const reading = await readingOf(described);
    expect(portOf(reading, 'g10').facts).toMatchObject({ duplex: 'half', speedMbps: 100 });
    expect(portOf(reading, 'g12').facts.adminUp).toBe(false);
    expect(portOf(reading, 'lag1').facts).toMatchObject({
      kind: 'bond',
      lowerPorts: ['xg1', 'xg2'],
    });
    expect(portOf(reading, 'vlan20').facts).toMatchObject({ kind: 'vlan', lowerPorts: ['lag1'] });
    expect(portOf(reading, 'xg1').gap('lowerPorts')).toBeUndefined();
  });

  it('has only facts of the dictionary, each of its type', async () => {
    const reading = await readingOf(described);
    const types = {
      number: 'number',
      text: 'string',
      flag: 'boolean',
      texts: 'object',
      numbers: 'object',
    };
    const wrong = [
      ...Object.entries(reading.facts).filter(
        ([name, value]) => types[dictionary.node[name]?.type ?? 'text'] !== typeof value,
      ),
      ...reading.ports
        .flatMap(({ facts }) => Object.entries(facts))
        .filter(([name, value]) => {
          const type = dictionary.port[name]?.type;
          return type === undefined || types[type] !== typeof value || Number.isNaN(value);
        }),
    ];
    expect(wrong).toEqual([]);
  });
});

describe('readSnmp on an agent with one vice', () => {
  const facts = async (vice: Vice) => portOf(await readingOf(plainSwitch(3), vice), 'xg1');

  it('believes no speed that 32 bits have cut', async () => {
    const one = await facts('speed-wrapped');
    expect(one.facts.speedMbps).toBeUndefined();
    expect(one.gap('speedMbps')).toEqual({
      reason: 'doubtful',
      words: 'ifHighSpeed missing, ifSpeed 1410065408: no speed of an Ethernet',
    });
  });

  it('names the table that is missing', async () => {
    const one = await facts('no-etherlike');
    expect(one.facts.mtuBytes).toBe(9216);
    expect(one.gap('duplex')).toEqual({
      reason: 'unsupported',
      words: 'the agent shows no EtherLike-MIB dot3StatsDuplexStatus (1.3.6.1.2.1.10.7.2.1.19)',
    });
  });

  it('takes ifDescr for the name where there is no ifName', async () => {
    const reading = await readingOf(plainSwitch(2), 'no-ifxtable');
    expect(reading.ports.map(({ name }) => name)).toEqual(['10G port 1', '10G port 2']);
    expect(portOf(reading, '10G port 1').gap('rxOctets')?.reason).toBe('unsupported');
    expect(reading.gaps['ports']).toBeUndefined();
  });

  it('passes on 1500 on all ports, which only the intent can call doubtful', async () => {
    expect((await facts('mtu-1500-everywhere')).facts.mtuBytes).toBe(1500);
  });

  it('keeps the rows of a column that stops advancing', async () => {
    const reading = await readingOf(plainSwitch(6), 'goes-backwards');
    const mtus = reading.ports.map((one) => one.facts.mtuBytes);
    expect(mtus).toEqual([9216, 9216, 9216, undefined, undefined, undefined]);
    expect(portOf(reading, 'xg4').gap('mtuBytes')).toEqual({
      reason: 'truncated',
      words: 'ifMtu: answered with an object that does not come after the one before',
    });
  });

  it.each<[string, Vice]>([
    ['loses every third datagram', 'drops-every-third'],
    ['ignores GETBULK', 'ignores-bulk'],
    ['refuses GETBULK', 'refuses-bulk'],
    ['says tooBig above 4 values', { tooBigAbove: 4 }],
  ])('reads all of an agent that %s', async (_, vice) => {
    const reading = await readingOf(plainSwitch(5), vice);
    expect(
      reading.ports.map(({ facts: { mtuBytes, duplex, lateCollisions } }) => [
        mtuBytes,
        duplex,
        lateCollisions,
      ]),
    ).toEqual(Array.from({ length: 5 }, () => [9216, 'full', 0]));
  });

  it('keeps what it has when the agent falls silent', async () => {
    const reading = await readingOf(plainSwitch(52), { silentAfter: 8 });
    expect(reading.ports).toHaveLength(52);
    expect(portOf(reading, 'xg52').facts.mtuBytes).toBe(9216);
    expect(portOf(reading, 'xg52').gap('rxCrcErrors')).toEqual({
      reason: 'truncated',
      words: 'dot3StatsFCSErrors: did not answer',
    });
    expect(reading.gaps['ports']).toBeUndefined();
  });

  it('says so when the list of ports itself was cut short', async () => {
    const reading = await readingOf(plainSwitch(52), { silentAfter: 3 });
    expect(reading.ports.length).toBeGreaterThan(5);
    expect(reading.ports.length).toBeLessThan(30);
    expect(reading.ports.every(({ name }) => name.startsWith('xg'))).toBe(true);
    expect(reading.gaps['ports']).toEqual({ reason: 'truncated', words: 'ifName: did not answer' });
  });

  it('waits for an agent that is slow, without asking twice for more than it must', async () => {
    const outcome = await outcomeOf(
      { switch: plainSwitch(1), vice: 'answers-slowly' },
      { change: { timing: patientTiming } },
    );
    expect(outcome.ok).toBe(true);
    // One GET, and one GETBULK for each group of at most six of the 38 columns.
    expect(agent?.requests()).toBe(8);
  });

  it('gives what it has when the time of the node is over', async () => {
    const outcome = await outcomeOf(
      { switch: plainSwitch(52), delayMs: 60 },
      { within: { ...limits, wholeMs: 700 }, change: { timing: patientTiming } },
    );
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    const { reading } = outcome;
    expect(reading.facts.systemName).toBe('quay-sw.office.example');
    expect(reading.ports.length).toBeGreaterThan(0);
    expect(reading.portGaps['txFrames']).toEqual({
      reason: 'truncated',
      words: 'ifHCOutUcastPkts: the time for this node was over',
    });
  });
});

describe('readSnmp on a node that gives nothing', () => {
  const silence = (at: number) => ({
    kind: 'silent',
    seen: `no answer from 127.0.0.1 port ${at}`,
    remedy:
      'check that the node is up and its agent on; a wrong community, an access list that leaves this machine out, and replies from another address all look the same',
  });

  it('lists the causes of silence', async () => {
    const outcome = await outcomeOf({ switch: plainSwitch(1), vice: 'hangs' });
    expect(outcome).toEqual({ ok: false, trouble: silence(agent?.port ?? 0) });
    expect(agent?.requests()).toBe(3);
  });

  it('cannot tell a wrong community from silence, and does not show it', async () => {
    const change = { community: secret('quite-secret'), timing: quickTiming };
    const outcome = await outcomeOf({ switch: plainSwitch(1) }, { change });
    expect(outcome).toEqual({ ok: false, trouble: silence(agent?.port ?? 0) });
    expect(JSON.stringify(outcome)).not.toContain('quite-secret');
  });

  it('ends at connectMs when nothing was heard, whatever the retries', async () => {
    const outcome = await outcomeOf(
      { switch: plainSwitch(1), vice: 'hangs' },
      { within: { ...limits, connectMs: 100 }, change: { timing: { replyTimeoutMs: 60_000 } } },
    );
    expect(outcome).toEqual({ ok: false, trouble: silence(agent?.port ?? 0) });
  });

  it('says when even one value is too big for the agent', async () => {
    const outcome = await outcomeOf({ switch: plainSwitch(1), vice: 'too-big-always' });
    expect(outcome).toMatchObject({
      ok: false,
      trouble: {
        kind: 'garbled',
        seen: `the agent at 127.0.0.1 port ${agent?.port} answered tooBig`,
      },
    });
  });

  it('ends at once when it is stopped from outside', async () => {
    agent = await startAgent({ switch: plainSwitch(1), vice: 'hangs' });
    const stop = new AbortController();
    const timing = { replyTimeoutMs: 60_000 };
    const reading = readSnmp(
      { ...target(agent), timing },
      { peers: [], topics: everyTopic },
      limits,
      stop.signal,
    );
    stop.abort();
    expect(await reading).toMatchObject({ ok: false, trouble: { kind: 'time-over' } });
  });

  it.each<[string, object, string, string]>([
    ['a host name', { address: 'quay-sw' }, 'name-unknown', 'an address'],
    ['an empty community', { community: secret('') }, 'key-unusable', 'community is empty'],
  ])('sends nothing for %s', async (_, change, kind, words) => {
    const outcome = await outcomeOf({ switch: plainSwitch(1) }, { change });
    if (outcome.ok) throw new Error('read');
    expect(outcome.trouble.kind).toBe(kind);
    expect(outcome.trouble.seen).toContain(words);
    expect(agent?.requests()).toBe(0);
  });

  it('reads over IPv6', async () => {
    const settings = { switch: plainSwitch(2), address: '::1' } as const;
    // Another spelling of the address: replies are matched by what it means.
    const outcome = await outcomeOf(settings, {
      change: { address: '0:0::0:1' },
    });
    expect(outcome.ok && outcome.reading.ports.map(({ name }) => name)).toEqual(['xg1', 'xg2']);
  });
});
