/**
 * A second, slow and obvious reading of IEEE 802.3 28B.3: its list, highest first, as text
 * (secondary source; the first two from memory). Knows nothing of the code under test.
 */
export const annex28b3: readonly string[] = [
  '40GBASE-T full',
  '25GBASE-T full',
  '10GBASE-T full',
  '5GBASE-T full',
  '2.5GBASE-T full',
  '1000BASE-T full',
  '1000BASE-T half',
  '100BASE-T2 full',
  '100BASE-TX full',
  '100BASE-T2 half',
  '100BASE-T4 half',
  '100BASE-TX half',
  '10BASE-T full',
  '10BASE-T half',
];

/** The first of the list that stands in both. */
export function highestByList(
  local: readonly string[],
  partner: readonly string[],
): string | undefined {
  for (const name of annex28b3) if (local.includes(name) && partner.includes(name)) return name;
  return undefined;
}
