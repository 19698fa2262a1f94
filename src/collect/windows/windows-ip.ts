import { type Found, found, gap, type PortDraft, type Settled } from '../unix/draft.ts';
import { numberOf, textOf } from '../unix/json-values.ts';
import { isGap } from '../unix/linux-evidence.ts';
import { isLiteralAddress } from '../unix/literal.ts';
import { mtuNumber } from '../unix/text.ts';
import type { Row } from './rows.ts';
import { cell, textsOf, type WindowsEvidence } from './windows-sections.ts';

/** NlMtu of the loopback interface, which has none: 2^32 - 1. */
const noMtu = 4_294_967_295;
/** Addresses of one port that are kept. */
const addressesMax = 256;

/** Index of the interface, by whichever source names it. */
export function windowsIndex({ adapter, own }: WindowsEvidence): number | undefined {
  return cell(adapter, 'InterfaceIndex', numberOf) ?? cell(own, 'Index', numberOf);
}

/** MTU of IP: that of IPv4, of IPv6 where IPv4 is not bound. */
export function windowsMtu(evidence: WindowsEvidence): Settled<number> {
  const { own, sections } = evidence;
  const index = windowsIndex(evidence);
  const rows = isGap(sections.ip)
    ? []
    : sections.ip.filter((row) => row['InterfaceIndex'] === index);
  const source = 'Get-NetIPInterface NlMtu';
  const four = index === undefined ? undefined : rows.find((row) => isFamily(row, 4));
  const byFour = mtuOf(four?.['NlMtu'], source);
  if (byFour !== undefined) return byFour;
  const byOwn = mtuOf(
    cell(own, 'Mtu', (value) => value),
    '.NET IPv4InterfaceProperties.Mtu',
  );
  if (byOwn !== undefined) return byOwn;
  const six = index === undefined ? undefined : rows.find((row) => isFamily(row, 6));
  const bySix = mtuOf(six?.['NlMtu'], source);
  if (bySix !== undefined) return bySix;
  if (isGap(sections.ip)) return sections.ip;
  return gap('unsupported', 'IP is not bound to it');
}

/** AF_INET and AF_INET6, as numbers or by the names of the enumeration, which are not translated. */
function isFamily(row: Row, version: 4 | 6): boolean {
  const family = row['AddressFamily'];
  return family === (version === 4 ? 2 : 23) || family === `IPv${version}`;
}

function mtuOf(value: unknown, source: string): Settled<number> {
  if (value === noMtu || value === -1) return gap('unsupported', 'the system sets it no limit');
  const bytes = mtuNumber(numberOf(value));
  return bytes === undefined ? undefined : found(bytes, source);
}

/** Addresses with prefix length, link-local left out. */
export function windowsAddresses(evidence: WindowsEvidence): PortDraft['addresses'] {
  const { own, sections } = evidence;
  if (!isGap(sections.interfaces)) {
    const texts = cell(own, 'Addresses', textsOf) ?? [];
    return kept(texts, '.NET UnicastAddresses');
  }
  if (isGap(sections.addresses)) return sections.addresses;
  const index = windowsIndex(evidence);
  const rows = sections.addresses.filter(
    (row) => index !== undefined && row['InterfaceIndex'] === index,
  );
  const texts = rows.map((row) => `${textOf(row['IPAddress'])}/${numberOf(row['PrefixLength'])}`);
  return kept(texts, 'Get-NetIPAddress');
}

function kept(texts: readonly string[], source: string): Found<readonly string[]> {
  const addresses = texts.slice(0, addressesMax).filter((text) => {
    const [, address = '', length = ''] = /^([0-9A-Fa-f.:]{2,45})\/(\d{1,3})$/.exec(text) ?? [];
    const linkLocal = address.startsWith('169.254.') || /^fe[89ab]/i.test(address);
    return !linkLocal && isLiteralAddress(address) && Number(length) <= 128;
  });
  return found(addresses, source);
}
