/** Bytes that one end of a transfer may print in all, and in one line. */
const outputBytesMax = 256 * 1024;
const lineBytesMax = 4096;

/**
 * Cuts what comes into lines, each without its end; gives false once more has come than an end of
 * a transfer may print.
 */
export function lineCutter(onLine: (line: string) => void): (chunk: Uint8Array) => boolean {
  let bytes = 0;
  let rest = '';
  return (chunk) => {
    bytes += chunk.length;
    if (bytes > outputBytesMax) return false;
    const lines = (rest + Buffer.from(chunk).toString('latin1')).split('\n');
    rest = (lines.pop() ?? '').slice(0, lineBytesMax);
    for (const line of lines) onLine(line.slice(0, lineBytesMax).replace(/\r$/, ''));
    return true;
  };
}
