import type { Intent } from '../../intent/types.ts';
import type { ChangeRemark } from '../types.ts';
import { unknown } from './remark.ts';

/** Segments of which nothing is declared but the name. */
export function segmentRemarks({ segments, links }: Intent): ChangeRemark[] {
  const named = links.map(({ untagged, tagged }) => [untagged ?? [], tagged].flat(2));
  const carried = new Set(named.flat());
  // A link that names no segment may carry any.
  const open = named.some((names) => names.length === 0);
  return segments.flatMap(({ name, mtuBytes }) => [
    ...(mtuBytes === undefined
      ? [unknown(name, 'has no MTU declared', 'declare mtu of the segment')]
      : []),
    ...(open || carried.has(name)
      ? []
      : [
          unknown(
            name,
            'is carried by no declared link',
            'name it as untagged or tagged on the links that carry it, or remove it',
          ),
        ]),
  ]);
}
