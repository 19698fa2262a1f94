import { lacpStates } from '../../src/ethernet/lacp-state.ts';

/** An LACP state as the octet of IEEE 802.1AX 6.4.2.3, least significant bit first. */
export function lacpBitsOf(names: readonly string[]): number {
  return lacpStates.reduce((bits, name, at) => (names.includes(name) ? bits | (1 << at) : bits), 0);
}
