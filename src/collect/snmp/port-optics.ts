import type { FactValue } from '../../facts/entry.ts';
import type { Gap } from '../../facts/gap.ts';
import type { Walk } from './bulk-table.ts';
import { entityColumns } from './entity-objects.ts';
import { entityPorts } from './entity-ports.ts';
import { type KnownPorts, numberIndex } from './known-ports.ts';
import { missing } from './port-cells.ts';
import { measuredBy, type SensorRow } from './sensor-value.ts';
import { objectText } from './snmp-object.ts';
import { cellOf } from './table-cells.ts';
import { integerOf, type Read, textOf, unsupported } from './values.ts';

type OpticFact = 'rxPowerDbm' | 'txPowerDbm' | 'moduleTemperatureCelsius';
const facts: readonly OpticFact[] = ['rxPowerDbm', 'txPowerDbm', 'moduleTemperatureCelsius'];

/** Source of each fact that sensors give. */
export const opticFactSources: Readonly<Record<string, string>> = Object.fromEntries(
  facts.map((fact) => [fact, objectText(entityColumns.entPhySensorValue)]),
);

/** A sensor of a port; no value where it gives none that can be believed. */
interface Found {
  readonly fact: OpticFact;
  readonly value?: number;
}

/** What the sensors of each port measure. */
export function opticsReader(
  walk: Walk,
  ports: KnownPorts,
): (ifIndex: number) => Readonly<Record<string, Read<FactValue>>> {
  const types = walk.columns.get(entityColumns.entPhySensorType.oid);
  const portOf = entityPorts(walk, ports);
  const byPort = new Map<number, Found[]>();
  for (const index of types?.cells.keys() ?? []) {
    const part = numberIndex(index);
    const ifIndex = part === undefined ? undefined : portOf(part);
    const found = ifIndex === undefined ? undefined : foundAt(walk, index);
    if (ifIndex === undefined || found === undefined) continue;
    byPort.set(ifIndex, [...(byPort.get(ifIndex) ?? []), found]);
  }
  const none: Gap =
    types?.cut !== undefined || !types?.cells.size
      ? missing(entityColumns.entPhySensorType, types)
      : unsupported('no sensor of the agent is known to belong to this port');
  return (ifIndex) => {
    const found = byPort.get(ifIndex) ?? [];
    return Object.fromEntries(facts.map((fact) => [fact, together(fact, found, none)]));
  };
}

/** Of the lanes of one module the weakest is told; the lowest of some would be a guess. */
function together(fact: OpticFact, found: readonly Found[], none: Gap): Read<number> {
  const own = found.filter((one) => one.fact === fact);
  const values = own.flatMap(({ value }) => (value === undefined ? [] : [value]));
  if (own.length === 0) return { gap: none };
  if (values.length < own.length) return { gap: unmeasured };
  if (fact === 'moduleTemperatureCelsius' && values.length > 1) return { gap: severalHeats };
  return { value: Math.min(...values) };
}

const unmeasured = unsupported('the sensor of the port measures nothing that can be believed');
const severalHeats: Gap = {
  reason: 'doubtful',
  words: 'several sensors of the port measure a temperature, and which is the module is not told',
};

/** What a sensor is for, by its type, units and name; undefined: nothing that is asked for. */
function foundAt(walk: Walk, index: string): Found | undefined {
  const row = sensorRow(walk, index);
  if (row === undefined) return undefined;
  const isHeat = row.type === 8;
  const isPower = row.type === 6 || /dbm/i.test(row.units ?? '');
  const text = `${partText(walk, 'entPhysicalName', index)} ${partText(walk, 'entPhysicalDescr', index)}`;
  const way = isPower ? wayOf(text) : undefined;
  if (!isHeat && way === undefined) return undefined;
  const fact = way ?? 'moduleTemperatureCelsius';
  const measured = measuredBy(row);
  if (measured === undefined) return { fact };
  return { fact, value: 'dbm' in measured ? measured.dbm : measured.celsius };
}

/** Words of makers for the two ways of light (common practice); undefined where both or none is there. */
function wayOf(text: string): 'rxPowerDbm' | 'txPowerDbm' | undefined {
  const receives = /\b(rx|receive[rd]?|input)\b/i.test(text.replace(/[_\d-]/g, ' '));
  const sends = /\b(tx|transmit(ter|ted)?|output|laser)\b/i.test(text.replace(/[_\d-]/g, ' '));
  if (receives === sends) return undefined;
  return receives ? 'rxPowerDbm' : 'txPowerDbm';
}

function partText(walk: Walk, column: 'entPhysicalName' | 'entPhysicalDescr', index: string) {
  return cellOf(walk, entityColumns[column], index, textOf).value ?? '';
}

function sensorRow(walk: Walk, index: string): SensorRow | undefined {
  const whole = (column: keyof typeof entityColumns, min: number, max: number) =>
    cellOf(walk, entityColumns[column], index, (cell, what) => integerOf(cell, what, [min, max]))
      .value;
  const type = whole('entPhySensorType', 1, 2 ** 31 - 1);
  const scale = whole('entPhySensorScale', 1, 17);
  const precision = whole('entPhySensorPrecision', -8, 9);
  const value = whole('entPhySensorValue', -(10 ** 9), 10 ** 9);
  const status = whole('entPhySensorOperStatus', 1, 3);
  if (type === undefined) return undefined;
  const units = cellOf(walk, entityColumns.entPhySensorUnitsDisplay, index, textOf).value;
  // A row without a whole value is a sensor all the same: one that says nothing.
  const said = scale !== undefined && precision !== undefined && value !== undefined;
  return {
    type,
    ...(said ? { scale, precision, value } : { scale: 9, precision: 0, value: 10 ** 9 }),
    ...(status === undefined ? {} : { status }),
    ...(units ? { units } : {}),
  };
}
