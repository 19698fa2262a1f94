const bitNames = [
  'activity',
  'timeout',
  'aggregation',
  'synchronization',
  'collecting',
  'distributing',
  'defaulted',
  'expired',
];

/** An LACP state as the octet of IEEE 802.1AX 6.4.2.3, least significant bit first. */
export function lacpBitsOf(names: readonly string[]): number {
  return names.reduce((bits, name) => bits | (1 << bitNames.indexOf(name)), 0);
}
