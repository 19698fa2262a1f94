import type { Intent } from '../../intent/types.ts';
import type { ChangeRemark } from '../types.ts';
import { unknown } from './remark.ts';

/** Nodes that hang in the air. */
export function nodeRemarks({ nodes, links }: Intent): ChangeRemark[] {
  const linked = new Set(links.flatMap(({ ends }) => ends.map(({ node }) => node)));
  return nodes.flatMap(({ name }) =>
    linked.has(name)
      ? []
      : [unknown(name, 'has no link declared', 'declare the links, or remove what has none')],
  );
}
