import { firstGroup } from './text.ts';

/**
 * Reads the error correction in use out of `ethtool --show-fec PORT`, as it words it: `RS`,
 * `BaseR`, `Off`; undefined where it prints none. Untrusted.
 */
export function parseEthtoolFec(output: string): string | undefined {
  return firstGroup(output, /^Active FEC encodings?:[ \t]*(\w[^\n]{0,79})$/m)?.trim();
}
