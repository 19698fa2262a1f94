import { describe, expect, it } from 'vitest';
import { emptyReading, mergeReadings } from '../../src/collect/merge-readings.ts';
import type { NodeReading } from '../../src/collect/types.ts';

const bySsh: NodeReading = {
  ...emptyReading,
  facts: { systemKind: 'linux', systemName: 'vault' },
  sources: { systemKind: 'uname -s', systemName: 'uname -n' },
  gaps: { sysObjectId: { reason: 'unasked', words: 'not over SSH' } },
  portSources: { mtuBytes: 'ip -j -d link', kind: 'sysfs', speedMbps: 'sysfs' },
  ports: [
    { name: 'eth4', facts: { kind: 'physical', mtuBytes: 9000 } },
    { name: 'eth10', facts: { kind: 'physical', mtuBytes: 1500 } },
  ],
};
const bySnmp: NodeReading = {
  ...emptyReading,
  facts: { systemKind: 'snmp', sysObjectId: '1.3.6.1.4.1.8072.3.2.10' },
  sources: { systemKind: 'sysDescr', sysObjectId: 'SNMPv2-MIB sysObjectID' },
  portSources: {
    mtuBytes: 'IF-MIB ifMtu',
    speedMbps: 'IF-MIB ifHighSpeed',
    alias: 'IF-MIB ifAlias',
  },
  portGaps: { duplex: { reason: 'unsupported', words: 'no EtherLike-MIB' } },
  ports: [
    { name: 'eth2', facts: { kind: 'physical', mtuBytes: 1500 } },
    {
      name: 'eth4',
      facts: { kind: 'physical', mtuBytes: 1500, speedMbps: 10000, alias: 'to quay' },
    },
  ],
};

describe('mergeReadings', () => {
  const merged = mergeReadings([bySsh, bySnmp]);

  it('lets the first access rule and the later one fill what is open', () => {
    expect(merged.facts).toEqual({
      systemKind: 'linux',
      systemName: 'vault',
      sysObjectId: '1.3.6.1.4.1.8072.3.2.10',
    });
    expect(merged.gaps).toEqual({});
    expect(merged.ports.find((port) => port.name === 'eth4')).toEqual({
      name: 'eth4',
      facts: { kind: 'physical', mtuBytes: 9000, speedMbps: 10000, alias: 'to quay' },
      sources: { speedMbps: 'IF-MIB ifHighSpeed', alias: 'IF-MIB ifAlias' },
    });
  });

  it('keeps ports that only one saw, in the order of names', () => {
    expect(merged.ports.map((port) => port.name)).toEqual(['eth2', 'eth4', 'eth10']);
    expect(merged.ports[0]).toEqual({
      name: 'eth2',
      facts: { kind: 'physical', mtuBytes: 1500 },
      sources: { mtuBytes: 'IF-MIB ifMtu' },
      gaps: { duplex: { reason: 'unsupported', words: 'no EtherLike-MIB' } },
    });
  });

  it('keeps both words where two accesses differ', () => {
    expect(merged.disagreements).toEqual([
      {
        port: 'eth4',
        fact: 'mtuBytes',
        values: [
          { value: '9000', source: 'ip -j -d link' },
          { value: '1500', source: 'IF-MIB ifMtu' },
        ],
      },
    ]);
  });

  it('is the reading itself where there is one, and empty where there is none', () => {
    expect(mergeReadings([bySsh])).toEqual({ ...bySsh, disagreements: [] });
    expect(mergeReadings([]).ports).toEqual([]);
  });
});
