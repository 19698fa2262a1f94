import type { LinkOf } from '../../link-rating.ts';
import type { Lane } from './path-lanes.ts';

/** Why each lane is drawn beside the first, in short lines; undefined for the first. */
export function laneLabels(
  lanes: readonly Lane[],
  linkOf: LinkOf,
): (readonly string[] | undefined)[] {
  const drawn = new Set<string>();
  return lanes.map(({ steps }, at) => {
    const lags = steps.flatMap(({ joint }) =>
      joint.link === undefined ? [] : (linkOf(joint.link.id)?.declared.lag ?? []),
    );
    const lag = lags.find((each) => drawn.has(each));
    for (const each of lags) drawn.add(each);
    if (at === 0) return undefined;
    return lag === undefined
      ? ['or, another way:']
      : ['and beside it, in the', `aggregate ${lag}:`];
  });
}
