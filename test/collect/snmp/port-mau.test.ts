import fc from 'fast-check';
import snmp from 'net-snmp';
import { afterEach, describe, expect, it } from 'vitest';
import type { DescribedSwitchPort } from '../../../mocks/snmp-agent/described-switch.ts';
import { type RunningAgent, startAgent } from '../../../mocks/snmp-agent/start-agent.ts';
import type { Walk } from '../../../src/collect/snmp/bulk-table.ts';
import { type MauColumn, mauColumns } from '../../../src/collect/snmp/objects.ts';
import { mauReader, mauValues } from '../../../src/collect/snmp/port-mau.ts';
import { readSnmp } from '../../../src/collect/snmp/read-snmp.ts';
import { everyTopic } from '../../../src/facts/read-topics.ts';
import { limits, port, quaySwitch, target } from './quay-switch.ts';

let agent: RunningAgent | undefined;
afterEach(() => agent?.stop());

async function read(ports: readonly DescribedSwitchPort[]) {
  agent = await startAgent({ switch: quaySwitch(ports) });
  const signal = new AbortController().signal;
  const outcome = await readSnmp(target(agent), { peers: [], topics: everyTopic }, limits, signal);
  if (!outcome.ok) throw new Error(outcome.trouble.seen);
  const { ports: found, portGaps } = outcome.reading;
  return found.map(({ facts, gaps }) => ({ facts, gaps: { ...portGaps, ...gaps } }));
}

async function readOne(change: Partial<DescribedSwitchPort>) {
  const [one] = await read([port(1, change)]);
  if (one === undefined) throw new Error('no port');
  return one;
}

const negotiation = { enabled: true, partner: true, can: [], offers: [], hears: [] };

describe('the medium of a switch port', () => {
  // Numbers of dot3MauType and bits of IANAifMauAutoNegCapBits: IANA-MAU-MIB.
  it.each([
    [16, '100BASE-TX'],
    [30, '1000BASE-T'],
    [33, '10GBASE-R'],
    [36, '10GBASE-SR'],
    [54, '10GBASE-T'],
    [103, '2.5GBASE-T'],
  ])('dot3MauType %i is %s', async (type, phyText) => {
    const { facts } = await readOne({ mau: { type } });
    expect(facts.phyText).toBe(phyText);
  });

  // Numbers of JackType: IANA-MAU-MIB.
  it.each([
    ['RJ-45', { type: 54, jack: 2 }],
    ['fibre LC', { type: 36, jack: 14 }],
    [
      'RJ-45, fibre LC',
      [
        { type: 54, jack: 2 },
        { type: 36, jack: 14 },
      ],
    ],
  ])('has a jack for %s', async (mediaText, mau) => {
    const { facts } = await readOne({ mau });
    expect(facts.mediaText).toBe(mediaText);
  });

  it.each([
    ['of another kind', { type: 54, jack: 1 }, 'ifJackType is 1'],
    ['that nobody knows', { type: 54, jack: 99 }, 'ifJackType is 99'],
    [
      'of which one is not known',
      [
        { type: 54, jack: 2 },
        { type: 36, jack: 99 },
      ],
      'ifJackType is 99',
    ],
    [
      'that the agent does not show',
      { type: 54 },
      'the agent shows no MAU-MIB ifJackType (1.3.6.1.2.1.26.2.2.1.2)',
    ],
  ])('says why it has no jack %s', async (_, mau, words) => {
    const { facts, gaps } = await readOne({ mau });
    expect(facts.mediaText).toBeUndefined();
    expect(gaps['mediaText']).toEqual({ reason: 'unsupported', words });
  });

  it('tells a partner that restricts what it offers', async () => {
    const { facts } = await readOne({
      speedMbps: 1000,
      mau: {
        type: 30,
        negotiation: { ...negotiation, can: [5, 15, 16], offers: [5, 15, 16], hears: [8, 14, 15] },
      },
    });
    expect(facts).toMatchObject({
      phyText: '1000BASE-T',
      supportedModes: ['10000baseT/Full', '1000baseT/Full', '100baseT/Full'],
      advertisedModes: ['10000baseT/Full', '1000baseT/Full', '100baseT/Full'],
      partnerModes: ['1000baseT/Full', '1000baseT/Half'],
    });
  });

  it('tells a partner that does not negotiate', async () => {
    const mau = { type: 15, negotiation: { ...negotiation, partner: false } };
    const { facts } = await readOne({ speedMbps: 100, duplex: 'half', mau });
    expect(facts).toMatchObject({ autoNegotiation: true, partnerAutoNegotiation: false });
  });

  it.each<[string, Partial<DescribedSwitchPort>, string, string, string]>([
    [
      'unknown',
      { mau: { type: 0 } },
      'phyText',
      'unsupported',
      'ifMauType is 0.0: no known medium',
    ],
    [
      'not in the module',
      { mau: { type: 999 } },
      'phyText',
      'unsupported',
      'ifMauType is 1.3.6.1.2.1.26.4.999: no known medium',
    ],
    [
      'only bOther, as a port of 2.5 Gb/s that no bit names',
      { mau: { type: 103, negotiation: { ...negotiation, can: [0] } } },
      'supportedModes',
      'unsupported',
      'ifMauAutoNegCapabilityBits names no mode but bOther(0)',
    ],
    [
      'a port that does not negotiate and hears nothing',
      { mau: { type: 30, negotiation: { ...negotiation, enabled: false, partner: false } } },
      'partnerAutoNegotiation',
      'unsupported',
      'notdetected(2), by a port that does not negotiate itself',
    ],
    [
      'a socket and a cage that share the port',
      { mau: [{ type: 54 }, { type: 36 }] },
      'phyText',
      'doubtful',
      'the port has several media, and which of them is in use is not told',
    ],
    [
      'fibre, which has no row for negotiation',
      { mau: { type: 36 } },
      'autoNegotiation',
      'unsupported',
      'the agent shows no MAU-MIB ifMauAutoNegAdminStatus (1.3.6.1.2.1.26.5.1.1.1)',
    ],
  ])('%s: no %3$s', async (_, change, fact, reason, words) => {
    const { facts, gaps } = await readOne(change);
    expect(facts).not.toHaveProperty(fact);
    expect(gaps[fact]).toEqual({ reason, words });
  });

  it('is unsupported, and nothing else is lost, where the agent has no MAU-MIB', async () => {
    const bare = [1, 2].map((ifIndex) => {
      const { mau, pause, ...rest } = port(ifIndex);
      return rest;
    });
    const [one] = await read(bare);
    expect(one?.facts).toMatchObject({ speedMbps: 10_000, duplex: 'full', rxCrcErrors: 0 });
    for (const fact of ['phyText', 'autoNegotiation', 'supportedModes', 'partnerModes']) {
      expect(one?.facts, fact).not.toHaveProperty(fact);
      expect(one?.gaps[fact]?.reason, fact).toBe('unsupported');
    }
    expect(one?.gaps['pauseRx']).toEqual({
      reason: 'unsupported',
      words: 'the agent shows no EtherLike-MIB dot3PauseOperMode (1.3.6.1.2.1.10.7.10.1.2)',
    });
  });

  it.each([
    ['disabled', false, false],
    ['xmit', false, true],
    ['rcv', true, false],
    ['both', true, true],
  ] as const)('pause %s (RFC 3635)', async (pause, pauseRx, pauseTx) => {
    expect((await readOne({ pause })).facts).toMatchObject({ pauseRx, pauseTx });
  });

  it('takes the medium of each port, whatever the other ports have', async () => {
    const ports = [port(1, { mau: { type: 36 } }), port(11, { mau: { type: 30 } })];
    expect((await read(ports)).map(({ facts }) => facts.phyText)).toEqual([
      '10GBASE-SR',
      '1000BASE-T',
    ]);
  });
});

describe('a hostile agent', () => {
  function walkOf(cells: Partial<Record<MauColumn, snmp.Varbind>>): Walk {
    const columns = Object.entries(mauColumns).map(([name, { oid }]) => {
      const cell = cells[name as MauColumn];
      return [oid, { cells: new Map(cell === undefined ? [] : [['1.1', cell]]) }] as const;
    });
    return { columns: new Map(columns) };
  }

  it('gives no modes and no medium by values of another type', () => {
    const { OctetString, Integer, OID } = snmp.ObjectType;
    const values = mauValues(
      mauReader(
        walkOf({
          ifMauType: { oid: '1', type: OctetString, value: Buffer.from('1.3.6.1.2.1.26.4.54') },
          ifMauAutoNegAdminStatus: { oid: '1', type: Integer, value: 3 },
          ifMauAutoNegRemoteSignaling: { oid: '1', type: OID, value: '1.3' },
          ifMauAutoNegCapabilityBits: { oid: '1', type: OctetString, value: Buffer.alloc(0) },
          ifMauAutoNegCapAdvertisedBits: { oid: '1', type: Integer, value: 16 },
        }),
      )(1),
      { value: true },
    );
    expect(Object.values(values).map(({ value }) => value)).toEqual(Array(6).fill(undefined));
    expect(values['phyText']?.gap?.reason).toBe('unreadable');
    expect(values['supportedModes']?.gap?.words).toBe('ifMauAutoNegCapabilityBits is empty');
  });

  it('cannot make more than known modes out of any octets', () => {
    const octets = fc.uint8Array({ maxLength: 400 });
    fc.assert(
      fc.property(octets, (bytes) => {
        const value = Buffer.from(bytes);
        const varbind = { oid: '1', type: snmp.ObjectType.OctetString, value };
        const cell = mauReader(walkOf({ ifMauAutoNegCapabilityBits: varbind }))(1);
        const { supportedModes } = mauValues(cell, { value: true });
        for (const mode of (supportedModes?.value ?? []) as string[]) {
          expect(mode).toMatch(/^\d{2,6}base[A-Z0-9_]+\/(?:Full|Half)$/);
        }
        expect(supportedModes?.gap?.words.length ?? 0).toBeLessThan(200);
      }),
    );
  });
});
