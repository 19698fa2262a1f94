/** Names of the bits of an LACP state, least significant first (IEEE 802.1AX 6.4.2.3). */
const bitNames = [
  'activity',
  'timeout',
  'aggregation',
  'synchronization',
  'collecting',
  'distributing',
  'defaulted',
  'expired',
] as const;

/** The bits that are set in an LACP state; undefined for a number that is none of one octet. */
export function lacpStateOf(state: number | undefined): readonly string[] | undefined {
  if (state === undefined || !Number.isInteger(state) || state < 0 || state > 255) return undefined;
  return bitNames.filter((_, bit) => (state & (1 << bit)) !== 0);
}
