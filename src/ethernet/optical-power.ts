/** Power in mW of a level in dBm: 0 dBm is 1 mW. */
export function milliwattsOfDbm(dbm: number): number {
  return 10 ** (dbm / 10);
}

/** Level in dBm of a power in mW; undefined for 0 and less, which has none. */
export function dbmOfMilliwatts(milliwatts: number): number | undefined {
  return milliwatts > 0 ? 10 * Math.log10(milliwatts) : undefined;
}

/** Modules say this, or 0 µW, where there is no light at all (common practice). */
export const noLightDbm = -40;
/**
 * The 16 bits of a module's monitor, in 0.1 µW, end at 6.5535 mW, which prints as 8.16 dBm
 * (SFF-8472, from memory): a register full of ones is no measurement.
 */
export const monitorDbmMax = 8.16;

/** A power as a module told it: in dBm, or where that is absent in µW. */
export interface PowerReading {
  readonly powerDbm?: number;
  readonly powerMicrowatts?: number;
}

/** A level in dBm, no light, or nothing that can be believed. */
export type PowerLevel = { readonly dbm: number } | 'no-light' | 'unknown';

/** The power of a reading in dBm; no light is told apart, since it has no logarithm. */
export function powerLevel({ powerDbm, powerMicrowatts }: PowerReading): PowerLevel {
  const dbm = powerDbm ?? dbmOfMicrowatts(powerMicrowatts);
  if (dbm === undefined || Number.isNaN(dbm) || dbm >= monitorDbmMax) return 'unknown';
  return dbm <= noLightDbm ? 'no-light' : { dbm };
}

function dbmOfMicrowatts(microwatts: number | undefined): number | undefined {
  if (microwatts === 0) return Number.NEGATIVE_INFINITY;
  return microwatts === undefined ? undefined : dbmOfMilliwatts(microwatts / 1000);
}
