import type { NodeSurvey } from './survey.ts';

/** Clocks of the two sides and the time a reading takes, in seconds. */
const slackSeconds = 120;

/**
 * Whether a node restarted since it was last read: it says that it has been up for less time than
 * has passed. Undefined where it does not say how long it is up.
 */
export function restartedSince(
  before: { readonly seenAt: string },
  now: NodeSurvey,
  at: string,
): boolean | undefined {
  const { uptimeSeconds } = now.facts;
  const passedSeconds = (Date.parse(at) - Date.parse(before.seenAt)) / 1000;
  if (uptimeSeconds === undefined || !Number.isFinite(passedSeconds)) return undefined;
  // A clock that jumped back leaves no time to compare with.
  if (passedSeconds <= 0) return undefined;
  return uptimeSeconds + slackSeconds < passedSeconds;
}
