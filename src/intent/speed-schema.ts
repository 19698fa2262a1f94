import { unitText } from './schema-parts.ts';
import { ethernetSpeedsMbps, parseSpeed, speedPattern } from './speed.ts';

/** A speed of Ethernet with its unit. */
export const speedSchema = unitText(
  'Declared speed, such as 100M, 2.5G or 10G',
  speedPattern,
  "must be a speed; write it with its unit, such as '10G'",
).refine((text) => parseSpeed(text) !== undefined, {
  error: `is no speed of Ethernet; write one of ${ethernetSpeedsMbps.map(speedWord).join(', ')}`,
  when: ({ issues }) => issues.length === 0,
});

function speedWord(mbps: number): string {
  return mbps < 1_000 ? `${mbps}M` : `${mbps / 1_000}G`;
}
