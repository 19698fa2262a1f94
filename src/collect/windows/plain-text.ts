/**
 * What a Windows host printed, as UTF-8: without a byte order mark, and where it is UTF-16, as some
 * shells print into a pipe, turned into UTF-8. The script itself prints plain ASCII.
 */
export function plainText(bytes: Uint8Array): Uint8Array {
  if (startsWith(bytes, [0xef, 0xbb, 0xbf])) return bytes.subarray(3);
  if (startsWith(bytes, [0xff, 0xfe])) return fromUtf16(bytes.subarray(2));
  return looksLikeUtf16(bytes) ? fromUtf16(bytes) : bytes;
}

function startsWith(bytes: Uint8Array, start: readonly number[]): boolean {
  return start.every((byte, at) => bytes[at] === byte);
}

/** Bytes that are looked at to tell an encoding. */
const sampleBytes = 256;

/** ASCII in UTF-16, low byte first, has a zero at every second place. */
function looksLikeUtf16(bytes: Uint8Array): boolean {
  const sample = bytes.subarray(0, sampleBytes);
  if (sample.length < 4) return false;
  return sample.every((byte, at) => (at % 2 === 1) === (byte === 0));
}

function fromUtf16(bytes: Uint8Array): Uint8Array {
  return new TextEncoder().encode(new TextDecoder('utf-16le').decode(bytes));
}
