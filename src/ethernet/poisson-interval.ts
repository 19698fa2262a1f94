/** Bounds on the mean of a count of independent events. */
export interface PoissonInterval {
  readonly least: number;
  readonly most: number;
}

/** More events are bounded as this many are, in proportion: wider than exact by under 0.2 %. */
const exactCountMax = 1_000_000;
const bisectionsMax = 200;
const precision = 1e-14;

/**
 * The exact two-sided interval for the mean of a Poisson count (Garwood 1936): the mean below
 * which `count` or more would be seen too seldom, and the one above which `count` or fewer would.
 * It is half the chi-square quantiles at 2n and 2n + 2 degrees of freedom; since these are even,
 * the tails are plain sums and no incomplete gamma function is needed. `count` is a whole number,
 * `confidence` lies between 0 and 1.
 */
export function poissonInterval(count: number, confidence: number): PoissonInterval {
  if (!Number.isSafeInteger(count) || count < 0) throw new RangeError('no count of events');
  if (!(confidence > 0 && confidence < 1)) throw new RangeError('no confidence');
  const n = Math.min(count, exactCountMax);
  const scale = n === 0 ? 1 : count / n;
  const tail = (1 - confidence) / 2;
  return { least: leastMean(n, tail) * scale, most: mostMean(n, tail) * scale };
}

function leastMean(n: number, tail: number): number {
  if (n === 0) return 0;
  return bisect([0, n], (mean) => chanceOfMore(n, mean) > tail);
}

function mostMean(n: number, tail: number): number {
  if (n === 0) return -Math.log(tail);
  let high = n + 1;
  while (chanceOfFewer(n, high) > tail) high *= 2;
  return bisect([n, high], (mean) => chanceOfFewer(n, mean) < tail);
}

/** Where `isAbove` turns true, between two bounds. */
function bisect([from, to]: readonly [number, number], isAbove: (at: number) => boolean): number {
  let [low, high] = [from, to];
  for (let i = 0; i < bisectionsMax && high - low > precision * high; i += 1) {
    const middle = (low + high) / 2;
    if (isAbove(middle)) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

/** Chance of n or more where the mean is at most n: the terms after the first only shrink. */
function chanceOfMore(n: number, mean: number): number {
  let [term, sum] = [1, 1];
  for (let k = n + 1; term > precision * sum; k += 1) {
    term *= mean / k;
    sum += term;
  }
  return chanceOf(n, mean) * sum;
}

/** Chance of n or fewer where the mean is at least n. */
function chanceOfFewer(n: number, mean: number): number {
  let [term, sum] = [1, 1];
  for (let k = n; k > 0 && term > precision * sum; k -= 1) {
    term *= k / mean;
    sum += term;
  }
  return chanceOf(n, mean) * sum;
}

/** Chance of exactly n > 0 events, in the form that loses no digits for large n. */
function chanceOf(n: number, mean: number): number {
  const off = mean / n - 1;
  const distance = n * (off - Math.log1p(off));
  return Math.exp(-distance - stirlingRest(n)) / Math.sqrt(2 * Math.PI * n);
}

/** ln n! less Stirling's n ln n - n + ln(2 pi n) / 2. */
function stirlingRest(n: number): number {
  if (n < 16) {
    let factorial = 1;
    for (let k = 2; k <= n; k += 1) factorial *= k;
    return Math.log(factorial) - n * Math.log(n) + n - Math.log(2 * Math.PI * n) / 2;
  }
  return 1 / (12 * n) - 1 / (360 * n ** 3) + 1 / (1260 * n ** 5) - 1 / (1680 * n ** 7);
}
