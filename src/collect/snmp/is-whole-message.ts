/**
 * Whether a datagram holds all of the message that it begins: the length that its first element
 * states (ITU-T X.690 section 8.1.3, definite form, which RFC 3417 section 8 demands) is there.
 * The library reads a message that was cut as one with empty values.
 */
export function isWholeMessage(data: Uint8Array): boolean {
  const [tag, first] = data;
  if (tag !== 0x30 || first === undefined) return false;
  if (first < 0x80) return data.length >= 2 + first;
  const octets = first & 0x7f;
  if (octets === 0 || octets > 4 || data.length < 2 + octets) return false;
  const length = data.subarray(2, 2 + octets).reduce((sum, octet) => sum * 256 + octet, 0);
  return data.length >= 2 + octets + length;
}
