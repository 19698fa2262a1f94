import { byName } from '../facts/order.ts';

/** The MTU of one interface and the kind of system that it is of. */
export interface SizedSystem {
  readonly bytes: number;
  /** `linux`, `macos`, ...; absent: not known. */
  readonly system?: string;
}

/** Interfaces of one system that agree before a pattern is seen in it. */
const alikeMin = 2;

/**
 * `linux 9000, macos 1500`: where interfaces differ in MTU and every system agrees within itself,
 * as when only some systems heed an MTU that DHCP hands out. Undefined where they do not, or where
 * no system has several interfaces to be sure of.
 */
export function splitBySystem(all: readonly SizedSystem[]): string | undefined {
  const bySystem = new Map<string, number[]>();
  for (const { system, bytes } of all) {
    if (system === undefined) return undefined;
    bySystem.set(system, [...(bySystem.get(system) ?? []), bytes]);
  }
  const groups = [...bySystem].sort(([a], [b]) => byName(a, b));
  const even = groups.every(([, sizes]) => new Set(sizes).size === 1);
  const several = groups.every(([, sizes]) => sizes.length >= alikeMin);
  const differ = new Set(all.map(({ bytes }) => bytes)).size > 1;
  if (!even || !several || !differ) return undefined;
  return groups.map(([system, [size]]) => `${system} ${size}`).join(', ');
}
