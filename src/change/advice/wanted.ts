import type { FactValue } from '../../facts/entry.ts';
import type { PortReadFacts } from '../../facts/port-facts.ts';
import type { AskedLine } from '../types.ts';

/** Largest MTU that a command may name: the total length of an IPv4 packet (RFC 791, 3.1). */
const mtuBytesMax = 65_535;
/** Smallest MTU of any IPv4 link (RFC 791, 3.2). */
const mtuBytesMin = 68;
/** Fastest Ethernet of IEEE 802.3df. */
const speedMbpsMax = 800_000;

/** `value` if it is a whole MTU in bytes that a command may name; undefined otherwise. */
export function mtuFrom(value: FactValue | undefined): number | undefined {
  return wholeWithin(value, mtuBytesMin, mtuBytesMax);
}

/** `value` if it is a whole speed in Mb/s that a command may name; undefined otherwise. */
export function speedFrom(value: FactValue | undefined): number | undefined {
  return wholeWithin(value, 10, speedMbpsMax);
}

function wholeWithin(value: FactValue | undefined, least: number, most: number) {
  const fits = typeof value === 'number' && Number.isInteger(value);
  return fits && value >= least && value <= most ? value : undefined;
}

/** How a port is to run: negotiated freely, negotiated but for one mode, or forced to one. */
export type LinkMode =
  | { readonly negotiate: true; readonly only?: OneMode }
  | { readonly negotiate: false; readonly only: OneMode };

/** One speed and duplex. */
export interface OneMode {
  readonly speedMbps: number;
  readonly duplex: 'full' | 'half';
}

/**
 * The mode that sets `line`, the rest as it was read. Undefined where what is missing was not read,
 * or the line is none.
 */
export function linkModeFor(
  line: AskedLine | undefined,
  port: PortReadFacts | undefined,
): LinkMode | undefined {
  if (line === undefined) return undefined;
  const { negotiates = port?.autoNegotiation } = line;
  if (line.speedMbps === undefined && line.duplex === undefined && line.negotiates === true)
    return { negotiate: true };
  const speedMbps = speedFrom(line.speedMbps ?? port?.speedMbps);
  const duplex = duplexFrom(line.duplex ?? port?.duplex, speedMbps);
  if (speedMbps === undefined || duplex === undefined) return undefined;
  // Twisted pair needs negotiation from 1 Gb/s on, so it stays on where nobody has switched it off.
  return { negotiate: negotiates !== false, only: { speedMbps, duplex } };
}

function duplexFrom(
  value: FactValue | undefined,
  speedMbps: number | undefined,
): OneMode['duplex'] | undefined {
  if (value === 'full' || value === 'half') return value;
  // No half duplex is left above 1 Gb/s (IEEE 802.3 clauses 44 on); below, it must have been read.
  return speedMbps !== undefined && speedMbps > 1000 ? 'full' : undefined;
}

/**
 * How the port ran when it was read, to go back to. Undefined where that cannot be told exactly:
 * negotiation was not read, or the port offered some of its modes and not others.
 */
export function linkModeBefore(port: PortReadFacts | undefined): LinkMode | undefined {
  if (port?.autoNegotiation === undefined) return undefined;
  const speedMbps = speedFrom(port.speedMbps);
  const duplex = duplexFrom(port.duplex, speedMbps);
  const one =
    speedMbps === undefined || duplex === undefined
      ? undefined
      : { negotiate: port.autoNegotiation, only: { speedMbps, duplex } };
  if (!port.autoNegotiation) return one;
  const { advertisedModes: offered, supportedModes: able } = port;
  if (offered?.length === 1) return one;
  const restricted = offered !== undefined && able?.some((mode) => !offered.includes(mode));
  return restricted === true ? undefined : { negotiate: true };
}
