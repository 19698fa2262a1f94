import { wholeNumber } from './text.ts';

/** Largest VLAN identifier (IEEE 802.1Q 9.6: 4095 is reserved). */
const vlanMax = 4094;

/** VLANs of `1,20-22`, in order; what is no VLAN is left out. */
export function vlanRangesOf(text: string): readonly number[] {
  const vlans = new Set<number>();
  for (const part of text.split(',')) {
    const [, first, last = first] = /^(\d{1,4})(?:-(\d{1,4}))?$/.exec(part) ?? [];
    addVlans(vlans, wholeNumber(first), wholeNumber(last));
  }
  return [...vlans].sort((a, b) => a - b);
}

/** Adds the VLANs from `first` to `last`; nothing where one of them is no VLAN. */
export function addVlans(
  vlans: Set<number>,
  first: number | undefined,
  last: number | undefined,
): void {
  if (first === undefined || last === undefined || first < 1 || last > vlanMax) return;
  for (let vlan = first; vlan <= last; vlan += 1) vlans.add(vlan);
}
