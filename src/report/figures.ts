import { mebibytesPerSecond, megabytesPerSecond } from '../ethernet/goodput.ts';
import { noBreak } from './layout.ts';

/** A number with at most so many decimals, and none that say nothing: `9414.8`, `1500`. */
export function rounded(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}

/** A throughput in the three units that programs print: `9410 Mb/s = 1176.3 MB/s = 1121.8 MiB/s`. */
export function threeUnits(mbps: number): string {
  const units = [
    [rounded(mbps, 3), 'Mb/s'],
    [rounded(megabytesPerSecond(mbps), 2), 'MB/s'],
    [rounded(mebibytesPerSecond(mbps), 2), 'MiB/s'],
  ];
  return units.map((each) => each.join(noBreak)).join(' = ');
}

/** Measured against expected: `0.05 % less`, `0.02 % more`, `the same`. */
export function offWords(offShare: number): string {
  const percent = Math.abs(offShare * 100);
  if (percent < 0.005) return 'measured the same';
  return `measured ${rounded(percent, 2)} % ${offShare < 0 ? 'less' : 'more'}`;
}
