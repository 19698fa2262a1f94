import { cleanText } from '../../facts/clean-text.ts';
import type { NeighbourIdKind } from '../../facts/survey.ts';
import { addressOfOctets, macOfParts } from './index-parts.ts';

/** LldpChassisIdSubtype, from 1 (IEEE 802.1AB-2016 8.5.2). */
export const chassisKinds: readonly NeighbourIdKind[] = [
  'component',
  'alias',
  'component',
  'mac',
  'address',
  'name',
  'other',
];
/** LldpPortIdSubtype, from 1 (IEEE 802.1AB-2016 8.5.3); agentCircuitId(6) is `other`. */
export const portKinds: readonly NeighbourIdKind[] = [
  'alias',
  'component',
  'mac',
  'address',
  'name',
  'other',
  'other',
];

/** An identifier as text, with its kind. */
export interface LldpIdentity {
  readonly text: string;
  readonly kind: NeighbourIdKind;
}

/**
 * An identifier of LLDP: a MAC address lower case with colons, a literal IP address, else its text.
 * One that is not what its kind says is `other`: as text where it is printable, else hexadecimal.
 */
export function lldpIdentity(octets: Uint8Array, kind: NeighbourIdKind): LldpIdentity {
  if (kind === 'mac') {
    const mac = macOfParts([...octets]) ?? macOfText(octets);
    return mac === undefined ? { text: plain(octets), kind: 'other' } : { text: mac, kind };
  }
  if (kind === 'address') {
    const [family = 0, ...rest] = octets;
    const address = addressOfOctets(family, rest);
    return address === undefined ? { text: plain(octets), kind: 'other' } : { text: address, kind };
  }
  return { text: plain(octets), kind };
}

/** Some agents give a MAC address as it is printed (common practice). */
function macOfText(octets: Uint8Array): string | undefined {
  const text = new TextDecoder().decode(octets.subarray(0, 32)).toLowerCase();
  return /^([0-9a-f]{2}[:-]){5}[0-9a-f]{2}$/.test(text) ? text.replaceAll('-', ':') : undefined;
}

function plain(octets: Uint8Array): string {
  const text = new TextDecoder().decode(octets);
  const printable = /^[^\p{C}\ufffd]+$/u.test(text.replace(/\0+$/, ''));
  return cleanText(printable ? text : Buffer.from(octets).toString('hex'));
}

/** LldpSystemCapabilitiesMap, the first bit the highest (IEEE 802.1AB-2016 8.5.8). */
const capabilities = [
  'other',
  'repeater',
  'bridge',
  'wlan-access-point',
  'router',
  'telephone',
  'docsis',
  'station',
  'c-vlan',
  's-vlan',
  'two-port-relay',
] as const;

/** Words for the capabilities that are set. */
export function lldpCapabilities(octets: Uint8Array): readonly string[] {
  return capabilities.filter((_, bit) => (octets[bit >> 3] ?? 0) & (0x80 >> (bit & 7)));
}
