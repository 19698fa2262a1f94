import { noLightDbm, powerLevel } from '../../ethernet/optical-power.ts';

/** A row of entPhySensorTable (RFC 3433), as far as it can be read. */
export interface SensorRow {
  readonly type: number;
  readonly scale: number;
  readonly precision: number;
  readonly value: number;
  /** Absent: the agent does not say. */
  readonly status?: number;
  readonly units?: string;
}

/** What a sensor measures, in a unit of this project. */
export type Measured = { readonly dbm: number } | { readonly celsius: number };

/** EntitySensorDataType. */
const types = { other: 1, unknown: 2, watts: 6, celsius: 8 } as const;
/** EntitySensorStatus. */
const ok = 1;
/** EntitySensorDataScale of no power of ten. */
const unitsScale = 9;
/** EntitySensorValue stands here for less, or more, than it can say. */
const valueMax = 1_000_000_000;

/**
 * The value of a sensor: value x 10^(3 (scale - 9)) x 10^-precision. There is no type for dBm: it is
 * watts, or `other` with dBm as its units (common practice). Undefined: it measures something else,
 * nothing, or nothing that can be believed.
 */
export function measuredBy(row: SensorRow): Measured | undefined {
  if (row.status !== undefined && row.status !== ok) return undefined;
  if (Math.abs(row.value) >= valueMax) return undefined;
  if (row.scale < 1 || row.scale > 17 || Math.abs(row.precision) > 9) return undefined;
  const value = scaled(row);
  if (row.type === types.celsius) return { celsius: value };
  if (row.type === types.watts) return levelOf({ powerMicrowatts: value * 1e6 }, value < 0);
  const inDbm = /^\s*dbm\s*$/i.test(row.units ?? '');
  const odd = row.type === types.other || row.type === types.unknown;
  return odd && inDbm ? levelOf({ powerDbm: value }, false) : undefined;
}

function scaled({ value, scale, precision }: SensorRow): number {
  // One power of ten: two of them would add the noise of two roundings.
  const exponent = 3 * (scale - unitsScale) - precision;
  return Number(`${value}e${exponent}`);
}

function levelOf(reading: Parameters<typeof powerLevel>[0], odd: boolean): Measured | undefined {
  if (odd) return undefined;
  const level = powerLevel(reading);
  if (level === 'unknown') return undefined;
  return { dbm: level === 'no-light' ? noLightDbm : Math.round(level.dbm * 100) / 100 };
}
