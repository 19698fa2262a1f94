import snmp from 'net-snmp';
import { describe, expect, it } from 'vitest';
import type { Walk } from '../../../src/collect/snmp/bulk-table.ts';
import type { KnownPorts } from '../../../src/collect/snmp/known-ports.ts';
import { lagColumns } from '../../../src/collect/snmp/lag-objects.ts';
import { lagReader } from '../../../src/collect/snmp/port-lag.ts';

const ports: KnownPorts = new Map(
  [3, 4, 5, 100].map((ifIndex) => [
    ifIndex,
    { ifIndex, name: ifIndex < 100 ? `xg${ifIndex}` : 'lag1' },
  ]),
);

/** A walk of an agent that has no table of members, only lists by aggregate. */
function listsOnly(hex: string): Walk {
  const { oid } = lagColumns.dot3adAggPortListPorts;
  const { OctetString } = snmp.ObjectType;
  const cell = { oid: `${oid}.100`, type: OctetString, value: Buffer.from(hex, 'hex') };
  return { columns: new Map([[oid, { cells: new Map([['100', cell]]) }]]) };
}

describe('lagReader', () => {
  // A PortList (RFC 4363): 30 is ports 3 and 4, 31 also port 8.
  it('takes members out of lists where there is no table of them', () => {
    const of = lagReader(listsOnly('30'), ports);
    expect(of(3)['aggregate']).toEqual({ value: 'lag1' });
    expect(of(4)['aggregatorId']).toEqual({ value: 100 });
    expect(of(5)['aggregate']?.gap?.reason).toBe('unsupported');
  });

  it('believes no list with a port that the agent does not have', () => {
    const of = lagReader(listsOnly('31'), ports);
    expect(of(3)['aggregate']?.gap?.reason).toBe('unsupported');
  });
});
