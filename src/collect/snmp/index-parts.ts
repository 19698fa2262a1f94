import { isIP } from 'node:net';

/** Numbers of an index, all of them below 2^32; undefined unless there are `count` of them. */
export function indexParts(index: string, count: number): readonly number[] | undefined {
  if (!/^\d{1,10}(\.\d{1,10}){0,127}$/.test(index)) return undefined;
  const numbers = index.split('.').map(Number);
  const fit = numbers.length === count && numbers.every((number) => number < 2 ** 32);
  return fit ? numbers : undefined;
}

/** Six numbers of an index as a MAC address; undefined where they are none, or all are zero. */
export function macOfParts(parts: readonly number[]): string | undefined {
  if (parts.length !== 6 || !parts.every(isOctet) || parts.every((part) => part === 0)) {
    return undefined;
  }
  return parts.map((part) => part.toString(16).padStart(2, '0')).join(':');
}

/** Address families (IANA AddressFamilyNumbers) of IPv4 and IPv6. */
const families: Readonly<Record<number, number>> = { 1: 4, 2: 16 };

/** The literal IP address of `octets` in a family; undefined for other families and lengths. */
export function addressOfOctets(family: number, octets: readonly number[]): string | undefined {
  if (families[family] !== octets.length || !octets.every(isOctet)) return undefined;
  if (octets.length === 4) return octets.join('.');
  const groups = Array.from({ length: 8 }, (_, i) =>
    ((octets[2 * i] ?? 0) * 256 + (octets[2 * i + 1] ?? 0)).toString(16),
  );
  const address = shorten(groups.join(':'));
  return isIP(address) === 6 ? address : undefined;
}

/** The longest run of zero groups, the first of equals, becomes `::` (RFC 5952, 4.2). */
function shorten(address: string): string {
  const runs = [...address.matchAll(/(?<![0-9a-f])0(?::0)+(?![0-9a-f])/g)];
  const [longest] = runs.sort((a, b) => b[0].length - a[0].length || a.index - b.index);
  if (longest === undefined) return address;
  const before = address.slice(0, longest.index).replace(/:$/, '');
  const after = address.slice(longest.index + longest[0].length).replace(/^:/, '');
  return `${before}::${after}`;
}

function isOctet(part: number): boolean {
  return Number.isInteger(part) && part >= 0 && part <= 255;
}
