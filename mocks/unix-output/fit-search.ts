import type { FitPlan } from '../../src/probe/fit-types.ts';

/** How one packet of a payload ended: it came back, it was lost, or somebody said what would pass. */
export type Sent =
  | { readonly ended: 'passes' }
  | { readonly ended: 'silent' }
  | { readonly ended: 'said'; readonly payloadBytes?: number };

const packetsMax = 12;
const triesPerSize = 3;

/**
 * The search of a fit's script once more, written as plainly as can be: what it sends, in order.
 * Mocks answer by it, and the script itself is held to it.
 */
export function fitSearch(
  { risingBytes, nearBytes, floorBytes }: FitPlan,
  send: (payloadBytes: number, attempt: number) => Sent,
): void {
  let left = packetsMax;
  const attempt = (payload: number): Sent | undefined => {
    let last: Sent | undefined;
    for (let again = 1; again <= triesPerSize && left > 0; again += 1) {
      left -= 1;
      last = send(payload, again);
      if (last.ended !== 'silent') return last;
    }
    return last;
  };
  const passes = (payload: number) => attempt(payload)?.ended === 'passes';

  let best = 0;
  let lost: number | undefined;
  let how: Sent | undefined;
  for (const payload of risingBytes) {
    how = attempt(payload);
    if (how?.ended !== 'passes') {
      lost = payload;
      break;
    }
    best = payload;
  }
  if (lost === undefined) return;
  if (how?.ended === 'said') {
    const told = how.payloadBytes ?? 0;
    if (told > best && told < lost && passes(told)) best = told;
  }
  if (best === 0 && floorBytes < lost && passes(floorBytes)) best = floorBytes;
  if (best === 0 || how?.ended !== 'silent' || lost !== risingBytes.at(-1)) return;
  let low = 0;
  let high = nearBytes.length + 1;
  while (high - low > 1 && left > 0) {
    const middle = Math.floor((low + high) / 2);
    if (passes(nearBytes[middle - 1] ?? 0)) low = middle;
    else high = middle;
  }
}
