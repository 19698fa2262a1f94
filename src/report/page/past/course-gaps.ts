/** Why a stretch of nights has no value, in the words of the page. */
export const gapKind = {
  away: 'the node was not read',
  unread: 'not read',
  gone: 'the port was not there',
  unknown: 'not known',
  pause: 'no audit ran',
} as const;

/** An interval so many times as long as the usual one is a pause, where it is longer than a night. */
const pauseTimes = 3;
const pauseMsMin = 36 * 3_600_000;

/**
 * Nights after which no audit ran for long, so that nothing is known of the time until the next.
 * What is usual is the median interval; two nights alone have none that is unusual.
 */
export function pausesOf(nights: readonly string[]): ReadonlySet<string> {
  const waits = nights
    .slice(1)
    .map((night, at) => Date.parse(night) - Date.parse(nights[at] ?? ''));
  const usual = waits.toSorted((a, b) => a - b)[Math.floor(waits.length / 2)] ?? 0;
  return new Set(
    nights.filter((_, at) => (waits[at] ?? 0) > Math.max(usual * pauseTimes, pauseMsMin)),
  );
}
