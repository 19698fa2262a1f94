import { isIPv4 } from 'node:net';

/**
 * Prefix length of a netmask, written `0xffffff00` or `255.255.255.0`; undefined for anything
 * else, and where its ones are not all in front.
 */
export function prefixLengthOf(mask: string): number | undefined {
  const bits = bitsOf(mask);
  return bits !== undefined && /^1*0*$/.test(bits) ? bits.replace(/0+$/, '').length : undefined;
}

function bitsOf(mask: string): string | undefined {
  if (/^0x[0-9a-f]{8}$/i.test(mask)) {
    return Number.parseInt(mask.slice(2), 16).toString(2).padStart(32, '0');
  }
  if (!isIPv4(mask)) return undefined;
  return mask
    .split('.')
    .map((octet) => Number(octet).toString(2).padStart(8, '0'))
    .join('');
}
