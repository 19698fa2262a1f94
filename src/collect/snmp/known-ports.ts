import type { Walk } from './bulk-table.ts';
import { cellReader } from './port-cells.ts';
import { integerOf, macOf, textOf } from './values.ts';

/** One port of the agent by all that other tables may call it. */
export interface KnownPort {
  readonly ifIndex: number;
  /** Its name in the survey. */
  readonly name: string;
  readonly ifName?: string;
  readonly ifDescr?: string;
  readonly ifAlias?: string;
  readonly mac?: string;
  readonly ifType?: number;
}

/** The ports of an agent, by ifIndex. */
export type KnownPorts = ReadonlyMap<number, KnownPort>;

/** What the tables of ports say of those that have a name. */
export function knownPorts(walk: Walk, names: ReadonlyMap<number, string>): KnownPorts {
  return new Map([...names].map(([ifIndex, name]) => [ifIndex, knownPort(walk, ifIndex, name)]));
}

function knownPort(walk: Walk, ifIndex: number, name: string): KnownPort {
  const cell = cellReader(walk, ifIndex);
  const ifName = cell('ifName', textOf).value;
  const ifDescr = cell('ifDescr', textOf).value;
  const ifAlias = cell('ifAlias', textOf).value;
  const mac = cell('ifPhysAddress', macOf).value;
  const ifType = cell('ifType', (one, what) => integerOf(one, what, [1, 2 ** 31 - 1])).value;
  return {
    ifIndex,
    name,
    ...(ifName ? { ifName } : {}),
    ...(ifDescr ? { ifDescr } : {}),
    ...(ifAlias ? { ifAlias } : {}),
    ...(mac === undefined ? {} : { mac }),
    ...(ifType === undefined ? {} : { ifType }),
  };
}

/** ifIndex that a RowPointer or a data source names: an instance of ifIndex (RFC 2863). */
export function ifIndexOfPointer(pointer: string): number | undefined {
  const [, digits] = /^1\.3\.6\.1\.2\.1\.2\.2\.1\.\d{1,3}\.([1-9]\d{0,9})$/.exec(pointer) ?? [];
  return digits === undefined ? undefined : Number(digits);
}

/** Number of an index that is one ifIndex or other number above zero. */
export function numberIndex(index: string): number | undefined {
  return /^[1-9]\d{0,9}$/.test(index) ? Number(index) : undefined;
}
