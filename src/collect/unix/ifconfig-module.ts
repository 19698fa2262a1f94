import { monitorDbmMax, noLightDbm } from '../../ethernet/optical-power.ts';
import { firstGroup, present } from './text.ts';

/** What `ifconfig -v` of FreeBSD tells of the module in a port. */
export interface IfconfigModule {
  /** As printed. Untrusted. */
  readonly text: string;
  /** Of a module with several lanes the weakest. -40 where it measures no light. */
  readonly rxPowerDbm?: number;
  /** Older releases only. */
  readonly txPowerDbm?: number;
  readonly temperatureCelsius?: number;
}

/**
 * Reads the line `plugged:` and those of light and temperature after it; undefined where nothing
 * is plugged. Serial number and maker stand on a line of their own and are not read.
 */
export function parseIfconfigModule(lines: readonly string[]): IfconfigModule | undefined {
  const one = (pattern: RegExp) =>
    lines.map((line) => firstGroup(line, pattern)).find((text) => text !== undefined);
  const text = one(/^plugged: (.+)$/);
  if (text === undefined) return undefined;
  const degrees = one(/^module temperature: (-?\d{1,3}\.\d{1,4}) C(?=\s|$)/);
  return present<IfconfigModule>({
    text,
    rxPowerDbm: weakest(lines, /^(?:lane \d{1,2}: RX power|RX): \S+ mW \(([^)]{1,16}) dBm\)/),
    txPowerDbm: weakest(lines, / TX: \S+ mW \(([^)]{1,16}) dBm\)/),
    temperatureCelsius: degrees === undefined ? undefined : Number(degrees),
  });
}

function weakest(lines: readonly string[], pattern: RegExp): number | undefined {
  const printed = lines.flatMap((line) => firstGroup(line, pattern) ?? []);
  const levels = printed.map(dbmOf);
  // The lowest of some lanes would be a guess at the lowest of all.
  const read = levels.filter((level) => level !== undefined);
  return read.length === 0 || read.length < printed.length ? undefined : Math.min(...read);
}

function dbmOf(text: string): number | undefined {
  if (text === '-inf') return noLightDbm;
  if (!/^-?\d{1,3}\.\d{1,4}$/.test(text)) return undefined;
  return Number(text) < monitorDbmMax ? Math.max(Number(text), noLightDbm) : undefined;
}
