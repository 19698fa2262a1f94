/** One instance: OID, type of SMI, value. */
export type Row = readonly [oid: string, type: number, value: number | string | Buffer];

/** RFC 2578 7.1.4: bit 0 is the first of the first octet; three octets at least, as agents send. */
export function bitsOf(bits: readonly number[], least = 3): Buffer {
  const octets = Buffer.alloc(Math.max(least, Math.ceil((Math.max(0, ...bits) + 1) / 8)));
  for (const bit of bits) {
    octets[bit >> 3] = (octets[bit >> 3] ?? 0) | (0x80 >> (bit & 7));
  }
  return octets;
}

/** Octets of a Counter64 as agents send them: as few as hold it, a zero before a set first bit. */
export function counter64(value: number | string = 0): Buffer {
  const hex = BigInt(value).toString(16);
  const bytes = Buffer.from(hex.length % 2 === 0 ? hex : `0${hex}`, 'hex');
  return (bytes[0] ?? 0) > 0x7f ? Buffer.concat([Buffer.of(0), bytes]) : bytes;
}
