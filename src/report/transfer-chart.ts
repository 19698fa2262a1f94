import { rounded } from './figures.ts';
import { padEnd } from './layout.ts';

/** Rate over a stretch of time. */
export interface RateStep {
  readonly seconds: number;
  readonly mbps: number;
}

/** The rate of each stretch between counts of what has arrived by then. */
export function rateSteps(
  arrived: readonly { readonly ms: number; readonly bytes: number }[],
): readonly RateStep[] {
  let [ms, bytes] = [0, 0];
  const steps: RateStep[] = [];
  for (const each of arrived) {
    const passed = each.ms - ms;
    // The rest of a second after its tick is too short to be told a rate of.
    if (passed >= shortestStepMs) {
      steps.push({ seconds: passed / 1000, mbps: ((each.bytes - bytes) * 8) / passed / 1000 });
      [ms, bytes] = [each.ms, each.bytes];
    }
  }
  return steps;
}

const shortestStepMs = 250;
const rows = 4;
const eighths = ['', '▁', '▂', '▃', '▄', '▅', '▆', '▇'];
const full = '█';

/**
 * Steps as high as their rate, four rows high, time from left to right; the top is `topMbps`, or the
 * highest step where that is more.
 */
export function stepChart(
  steps: readonly RateStep[],
  topMbps: number | undefined,
  columns: number,
): readonly string[] {
  if (steps.length === 0) return [];
  const top = Math.max(topMbps ?? 0, ...steps.map(({ mbps }) => mbps));
  if (top <= 0) return [];
  const label = `${rounded(top, 0)} Mb/s`;
  const room = Math.max(steps.length, columns - label.length - 3);
  const wide = Math.max(1, Math.min(4, Math.floor(room / steps.length)));
  const heights = steps.map(({ mbps }) => Math.round((mbps / top) * rows * 8));
  const lines = Array.from({ length: rows }, (_, row) => {
    const floor = (rows - 1 - row) * 8;
    const drawn = heights.map((height) => cell(height - floor).repeat(wide)).join('');
    return `${padEnd(row === 0 ? label : '', label.length)} ▕${drawn}`.trimEnd();
  });
  const seconds = rounded(
    steps.reduce((sum, each) => sum + each.seconds, 0),
    1,
  );
  const foot = `${padEnd('0', label.length)} ▕${'▔'.repeat(wide * steps.length)} ${seconds} s`;
  return [...lines, foot];
}

function cell(eighth: number): string {
  if (eighth <= 0) return ' ';
  return eighth >= 8 ? full : (eighths[eighth] ?? full);
}
