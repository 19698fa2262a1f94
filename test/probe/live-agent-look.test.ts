import snmp from 'net-snmp';
import { describe, expect, it } from 'vitest';
import type { Varbind } from '../../src/collect/snmp/agent-session.ts';
import { agentLook, agentUpSeconds, oidsOf } from '../../src/probe/live-agent-look.ts';

const { Integer, Gauge, Counter, TimeTicks, OctetString, NoSuchInstance } = snmp.ObjectType;

// OIDs and values by IF-MIB (RFC 2863), EtherLike-MIB (RFC 3635), MAU-MIB (RFC 4836).
const ifEntry = '1.3.6.1.2.1.2.2.1';
const row: Readonly<Record<string, readonly [number, number | Buffer | null]>> = {
  '1.3.6.1.2.1.1.3.0': [TimeTicks, 12_345],
  [`${ifEntry}.7.5`]: [Integer, 1],
  [`${ifEntry}.8.5`]: [Integer, 1],
  [`${ifEntry}.9.5`]: [TimeTicks, 6100],
  [`${ifEntry}.4.5`]: [Integer, 9216],
  [`${ifEntry}.5.5`]: [Gauge, 1_000_000_000],
  '1.3.6.1.2.1.31.1.1.1.15.5': [Gauge, 1000],
  '1.3.6.1.2.1.10.7.2.1.19.5': [Integer, 3],
  [`${ifEntry}.14.5`]: [Counter, 4_294_967_295],
  [`${ifEntry}.20.5`]: [NoSuchInstance, null],
  '1.3.6.1.2.1.10.7.2.1.3.5': [Counter, 7],
  '1.3.6.1.2.1.31.1.1.1.19.5': [TimeTicks, 100],
  '1.3.6.1.2.1.26.5.1.1.1.5.1': [Integer, 1],
  // IANAifMauAutoNegCapBits: b1000baseTFD is bit 15.
  '1.3.6.1.2.1.26.5.1.1.11.5.1': [OctetString, Buffer.from([0x00, 0x01])],
};

function values(change: typeof row = {}): ReadonlyMap<string, Varbind> {
  return new Map(
    Object.entries({ ...row, ...change }).map(([oid, [type, value]]) => [
      oid,
      { oid, type, value } as Varbind,
    ]),
  );
}

const port = { ifIndex: 5, medium: 1 };

describe('agentLook', () => {
  it('takes each value from its object', () => {
    expect(agentLook(port, values())).toMatchObject({
      adminUp: { value: true },
      up: { value: true },
      speedMbps: { value: 1000 },
      duplex: { value: 'full' },
      autoNegotiation: { value: true },
      partnerModes: { value: ['1000baseT/Full'] },
      mtuBytes: { value: 9216 },
      counters: {
        rxErrors: { value: { count: 4_294_967_295n, bits: 32 } },
        txErrors: {
          gap: { reason: 'unsupported', words: 'the agent shows no ifOutErrors for this port' },
        },
        rxCrcErrors: { value: { count: 7n, bits: 32 } },
      },
      changedAtSeconds: { value: 61 },
      discontinuity: { value: 1 },
    });
    expect(agentUpSeconds(values())).toEqual({ value: 123.45 });
  });

  it.each([2, 3, 5, 6, 7])('has no line while ifOperStatus is %i', (status) => {
    const look = agentLook(port, values({ [`${ifEntry}.8.5`]: [Integer, status] }));
    expect(look.up).toEqual({ value: false });
    for (const fact of [look.speedMbps, look.duplex, look.partnerModes]) {
      expect(fact.gap?.reason).toBe('down');
    }
  });

  it('takes unknown(4) for no answer', () => {
    const look = agentLook(port, values({ [`${ifEntry}.8.5`]: [Integer, 4] }));
    expect(look.up.gap?.words).toBe('ifOperStatus is unknown(4)');
    expect(look.speedMbps.value).toBeUndefined();
  });

  it('makes nothing of an empty answer', () => {
    const look = agentLook({ ifIndex: 5 }, new Map());
    const { counters, ...facts } = look;
    for (const fact of [...Object.values(facts), ...Object.values(counters)]) {
      expect(fact).toMatchObject({ gap: { words: expect.stringMatching(/./) } });
    }
  });

  it('asks for the medium only where there is one', () => {
    expect(oidsOf(port)).toHaveLength(oidsOf({ ifIndex: 5 }).length + 2);
    for (const oid of oidsOf(port)) expect(Object.keys(row)).toContain(oid);
  });
});
