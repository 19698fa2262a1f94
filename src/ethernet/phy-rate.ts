const phyName = /^(\d{1,4}(?:\.\d)?)(G?)BASE-/;

/**
 * Rate in Mb/s that the name of a PHY of IEEE Std 802.3 begins with: `10GBASE-SR` 10000,
 * `2.5GBASE-T` 2500, `100BASE-FX` 100; undefined for a text of another form.
 */
export function phyRateMbps(phy: string): number | undefined {
  const [, digits, giga] = phyName.exec(phy) ?? [];
  if (digits === undefined) return undefined;
  return Number(digits) * (giga === 'G' ? 1000 : 1);
}
