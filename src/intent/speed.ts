/** Rates of Ethernet ports in Mb/s (IEEE Std 802.3-2022 and amendments). */
export const ethernetSpeedsMbps: readonly number[] = [
  10, 100, 1_000, 2_500, 5_000, 10_000, 25_000, 40_000, 50_000, 100_000, 200_000, 400_000,
];

/** How a speed is written in the intent: `100M`, `2.5G`, `10G`. */
export const speedPattern = /^(\d{1,6}(?:\.\d{1,6})?)([MG])$/;

/** `2.5G` or `100M` in Mb/s, to a thousandth; undefined when the text is neither. */
export function parseRate(text: string): number | undefined {
  const [, digits, unit] = speedPattern.exec(text) ?? [];
  if (digits === undefined) return undefined;
  const millis = Math.round(Number(digits) * (unit === 'G' ? 1_000_000 : 1_000));
  return millis > 0 ? millis / 1_000 : undefined;
}

/** A speed that Ethernet ports have, in Mb/s; undefined for anything else. */
export function parseSpeed(text: string): number | undefined {
  const mbps = parseRate(text);
  return mbps !== undefined && ethernetSpeedsMbps.includes(mbps) ? mbps : undefined;
}
