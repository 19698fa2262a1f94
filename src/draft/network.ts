import { isIP } from 'node:net';

/**
 * The network of an address with its prefix length: `198.18.20.0/24` of `198.18.20.7/24`.
 * Undefined for text that is none, and for a prefix that holds one address only.
 */
export function networkOf(withPrefix: string): string | undefined {
  const [address = '', lengthText = ''] = withPrefix.split('/');
  const family = isIP(address);
  if (family === 0 || !/^\d{1,3}$/.test(lengthText)) return undefined;
  const bits = family === 4 ? 32 : 128;
  const length = Number(lengthText);
  if (length >= bits) return undefined;
  const value = family === 4 ? valueOf4(address) : valueOf6(address);
  const host = BigInt(bits - length);
  const masked = (value >> host) << host;
  return `${family === 4 ? textOf4(masked) : textOf6(masked)}/${length}`;
}

function valueOf4(address: string): bigint {
  return address.split('.').reduce((sum, part) => (sum << 8n) + BigInt(part), 0n);
}

function textOf4(value: bigint): string {
  return [24n, 16n, 8n, 0n].map((shift) => String((value >> shift) & 255n)).join('.');
}

function valueOf6(address: string): bigint {
  const [head = '', tail] = address.split('::');
  const left = groupsOf(head);
  const right = tail === undefined ? [] : groupsOf(tail);
  const gap = tail === undefined ? 0 : 8 - left.length - right.length;
  const groups = [...left, ...Array<bigint>(gap).fill(0n), ...right];
  return groups.reduce((sum, group) => (sum << 16n) + group, 0n);
}

/** The last group may be an IPv4 address (RFC 4291 2.2). */
function groupsOf(text: string): bigint[] {
  if (text === '') return [];
  return text.split(':').flatMap((group) => {
    if (!group.includes('.')) return [BigInt(`0x${group}`)];
    const value = valueOf4(group);
    return [value >> 16n, value & 0xffffn];
  });
}

/** The longest run of zeros is left out, of equal ones the first (RFC 5952). */
function textOf6(value: bigint): string {
  const groups = Array.from({ length: 8 }, (_, at) =>
    ((value >> BigInt(112 - 16 * at)) & 0xffffn).toString(16),
  );
  const runs = [...groups.join(':').matchAll(/(?:^|:)(0(?::0)+)(?=:|$)/g)];
  const longest = runs.map(([, run = '']) => run).sort((a, b) => b.length - a.length)[0];
  if (longest === undefined) return groups.join(':');
  const text = groups.join(':');
  const at = text.search(new RegExp(`(?:^|:)${longest}(?:$|:)`));
  const start = text.startsWith(longest) && at === 0 ? 0 : at + 1;
  const [head, tail] = [text.slice(0, start), text.slice(start + longest.length)];
  return `${head.replace(/:$/, '')}::${tail.replace(/^:/, '')}`;
}
