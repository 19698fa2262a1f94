/** Bits of an LACP state (IEEE 802.1AX-2008 5.4.2.2), the first the least in LACPDUs. */
export const lacpStates = [
  'activity',
  'timeout',
  'aggregation',
  'synchronization',
  'collecting',
  'distributing',
  'defaulted',
  'expired',
] as const;
/** One bit of an LACP state that is set. */
export type LacpState = (typeof lacpStates)[number];

/** Which bit of an octet is `activity`: the first, as BITS of SNMP are, or the last. */
export type LacpOrder = 'bits' | 'lacpdu';

/** The states that are set in an octet. */
export function lacpStatesOf(octet: number, order: LacpOrder): readonly LacpState[] {
  return lacpStates.filter((_, i) => octet & (order === 'bits' ? 0x80 >> i : 1 << i));
}

/**
 * In which order an agent sends the bits. The module says BITS, the first bit the highest; some
 * agents pass on the octet of the LACPDU, the first bit the lowest (common practice). A port that
 * distributes also collects and is synchronized, and none is so whose knowledge of its partner has
 * expired or that only assumes one while it expired: an order in which some octet breaks this is
 * not the agent's. Where both would do, the module's; undefined where neither does.
 */
export function lacpOrder(octets: readonly number[]): LacpOrder | undefined {
  const orders = ['bits', 'lacpdu'] as const;
  return orders.find((order) => octets.every((octet) => canBe(lacpStatesOf(octet, order))));
}

function canBe(states: readonly LacpState[]): boolean {
  const has = (state: LacpState) => states.includes(state);
  if (has('distributing') && !has('collecting')) return false;
  if (has('collecting') && !has('synchronization')) return false;
  if (has('distributing') && has('expired')) return false;
  return !(has('defaulted') && has('expired'));
}
