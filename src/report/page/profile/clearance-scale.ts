/** Heights for IP packets, so that sizes that differ are seen to differ. */
export interface ClearanceScale {
  /** Height of the largest size. */
  readonly heightMax: number;
  /** Height of an opening that passes `bytes`; of what lies between known sizes, between theirs. */
  readonly heightOf: (bytes: number) => number;
  /** Sizes that stand at the edge of the drawing, smallest first. */
  readonly ticks: readonly number[];
}

/** Sizes that every drawing keeps apart, so that two pages can be held side by side (common practice). */
const usualBytes = [1280, 1500, 2000, 4000, 9000, 9216];
/** Of these, what stands at the edge of every drawing: the usual packet, and both large ones. */
const alwaysTold: readonly number[] = [1500, 9000, 9216];
/** What stands there only where something is that large. */
const toldIfDrawn: readonly number[] = [1280, 2000, 4000];

/** Smallest difference of height between two sizes, and height of the smallest one. */
const stepMin = 11;
const heightMin = 18;
/** Height for each doubling, before sizes are kept apart. */
const perDoubling = 34;

/**
 * A scale for the sizes of a drawing: by the logarithm, since 1500 and 9000 are six to one, and at
 * least a step between any two sizes that are drawn, since 9000 and 9216 are not to look alike.
 */
export function clearanceScale(sizes: readonly number[]): ClearanceScale {
  const known = [...new Set([...usualBytes, ...sizes])].filter((size) => size > 0);
  known.sort((a, b) => a - b);
  const [first = 1] = known;
  const heights: number[] = [];
  for (const size of known) {
    const wanted = heightMin + perDoubling * Math.log2(size / first);
    heights.push(Math.max(wanted, (heights.at(-1) ?? heightMin - stepMin) + stepMin));
  }
  const heightMax = heights.at(-1) ?? heightMin;
  const ticks = known.filter(
    (size) => alwaysTold.includes(size) || (toldIfDrawn.includes(size) && sizes.includes(size)),
  );
  return { heightMax, heightOf: (bytes) => between(known, heights, bytes), ticks };
}

function between(known: readonly number[], heights: readonly number[], bytes: number): number {
  const above = known.findIndex((size) => size >= bytes);
  const height = (at: number) => heights[at] ?? heightMin;
  if (above === -1) return height(known.length - 1);
  const size = known[above] ?? bytes;
  if (above === 0) return Math.max(2, (height(0) * bytes) / size);
  const below = known[above - 1] ?? 0;
  const share = (bytes - below) / (size - below);
  return height(above - 1) + share * (height(above) - height(above - 1));
}
