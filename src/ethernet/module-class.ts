import type { SourceMark } from './reach.ts';

/** What a pluggable copper module is usually sold for. */
export interface ModuleClass {
  readonly reachMetres: number;
  /** Least and most that such modules draw; absent: not known. */
  readonly powerWatts?: readonly [number, number];
  readonly mark: SourceMark;
}

/**
 * Power that a cage grants a module, in watts, by level: SFF-8431 has I and II, SFF-8419 adds III
 * (secondary source).
 */
export const cagePowerWatts = { I: 1, II: 1.5, III: 2 } as const;

const classes: Readonly<Record<string, ModuleClass>> = {
  // Common practice, on category 6A or 7; some are sold for less and some for more.
  '10GBASE-T': { reachMetres: 30, powerWatts: [2.5, 3.5], mark: 'secondary source' },
  '1000BASE-T': { reachMetres: 100, mark: 'from memory' },
};

/** Class of a twisted-pair module by its PHY; undefined where none is known. */
export function moduleClass(phy: string): ModuleClass | undefined {
  return Object.hasOwn(classes, phy) ? classes[phy] : undefined;
}

/** Whether such a module may draw more than any level grants; undefined: its power is not known. */
export function aboveCagePower(known: ModuleClass): boolean | undefined {
  const most = known.powerWatts?.[1];
  return most === undefined ? undefined : most > cagePowerWatts.III;
}
