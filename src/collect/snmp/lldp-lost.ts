import type { Gap } from '../../facts/gap.ts';
import type { Varbind } from './agent-session.ts';
import type { Walk } from './bulk-table.ts';
import type { LldpObjects } from './lldp-objects.ts';
import type { SnmpObject } from './snmp-object.ts';
import { lostIn } from './table-cells.ts';
import { integerOf, octetsOf, type Read } from './values.ts';

/**
 * Why a list of neighbours may lack some, or some of what they announce: a column that ends early,
 * or a value that its object cannot have. Undefined where all of it came.
 */
export function lostOfNeighbours(walk: Walk, objects: LldpObjects): Gap | undefined {
  return columnsOf(objects)
    .map(([column, read]) => lostIn(walk, column, read))
    .find((gap) => gap !== undefined);
}

type ReadCell = (cell: Varbind, what: string) => Read<unknown>;

function columnsOf(objects: LldpObjects): readonly (readonly [SnmpObject, ReadCell])[] {
  const { remote, dot3, vlan, address } = objects;
  const whole: ReadCell = (cell, what) => integerOf(cell, what, [-(2 ** 31), 2 ** 32 - 1]);
  const numbers = [remote.chassisKind, remote.portKind, dot3.auto, dot3.mau, dot3.frameMax, vlan];
  const octets = [
    remote.chassis,
    remote.port,
    remote.portText,
    remote.systemName,
    remote.systemText,
    remote.capabilities,
    dot3.offers,
  ];
  return [
    ...octets.map((column) => [column, octetsOf] as const),
    ...numbers.map((column) => [column, whole] as const),
    // What it is about stands in its index.
    [address, () => ({ value: undefined })],
  ];
}
