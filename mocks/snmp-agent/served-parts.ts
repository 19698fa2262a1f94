import snmp from 'net-snmp';
import type { DescribedPart, DescribedSwitchPort } from './described-switch.ts';
import { counter64, type Row } from './row.ts';

const { Integer, OctetString, OID, Counter, Counter64 } = snmp.ObjectType;
const physical = '1.3.6.1.2.1.47.1.1.1.1';
const ifIndexObject = '1.3.6.1.2.1.2.2.1.1';

/** ENTITY-MIB and ENTITY-SENSOR-MIB (RFC 6933, RFC 3433). */
export function partRows(one: DescribedPart): readonly Row[] {
  const rows: Row[] = [
    [`${physical}.2.${one.part}`, OctetString, one.descr ?? ''],
    [`${physical}.4.${one.part}`, Integer, one.holder],
    [`${physical}.5.${one.part}`, Integer, one.class],
    [`${physical}.7.${one.part}`, OctetString, one.name],
  ];
  if (one.alias !== undefined) {
    rows.push([`1.3.6.1.2.1.47.1.3.2.1.2.${one.part}.0`, OID, `${ifIndexObject}.${one.alias}`]);
  }
  if (one.sensor !== undefined) {
    const { type, scale, precision, value, status = 1, units = '' } = one.sensor;
    const at = (column: number) => `1.3.6.1.2.1.99.1.1.1.${column}.${one.part}`;
    rows.push([at(1), Integer, type], [at(2), Integer, scale], [at(3), Integer, precision]);
    rows.push([at(4), Integer, value], [at(5), Integer, status], [at(6), OctetString, units]);
  }
  return rows;
}

/** RMON-MIB etherStatsTable (RFC 2819) and dot3HCStatsTable (RFC 3635). */
export function remoteErrorRows({ ifIndex, rmon, wide }: DescribedSwitchPort): readonly Row[] {
  const rows: Row[] = [];
  if (rmon !== undefined) {
    // Its index is its own: no ifIndex.
    const at = (column: number) => `1.3.6.1.2.1.16.1.1.1.${column}.${ifIndex + 500}`;
    rows.push([at(2), OID, `${ifIndexObject}.${ifIndex}`], [at(10), Counter, rmon.oversize]);
    rows.push([at(11), Counter, rmon.fragments], [at(12), Counter, rmon.jabbers]);
  }
  if (wide !== undefined) {
    rows.push([`1.3.6.1.2.1.10.7.11.1.2.${ifIndex}`, Counter64, counter64(wide.rxCrcErrors)]);
  }
  return rows;
}
