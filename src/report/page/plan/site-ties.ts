import { type Markup, markup } from '../markup.ts';
import { groupBy } from './site-graph.ts';
import type { Box, Point, SiteLayout } from './site-layout-types.ts';
import type { Sheet } from './site-sheets.ts';

/** How far from the node the tie stands. */
const apart = 6;

interface End extends Point {
  /** Which way the link leaves the node: 1 to the right. */
  readonly side: 1 | -1;
}

/** A tie across the members of each aggregate, at the node where they end side by side. */
export function tiesOf({ links }: Sheet, layout: SiteLayout): Markup[] {
  const members = links.flatMap(({ id, ends, lag }) =>
    lag === undefined ? [] : [...new Set(ends)].map((node) => ({ id, lag, node })),
  );
  const groups = groupBy(members, ({ lag, node }) => JSON.stringify([lag, node]));
  return [...groups.values()].flatMap((group) => {
    const ends = group.flatMap(({ id, node }) => endAt(layout, id, node) ?? []);
    const [first] = ends;
    if (first === undefined || ends.length < 2) return [];
    const beside = ends.filter(({ x, side }) => x === first.x && side === first.side);
    if (beside.length < 2) return [];
    const x = first.x + first.side * apart;
    const ys = beside.map(({ y }) => y);
    const title = `aggregate ${group[0]?.lag ?? ''}`;
    return [
      markup`<g><title>${title}</title><path class="tie" d="M${x} ${Math.min(...ys) - 2}V${Math.max(...ys) + 2}"/></g>
`,
    ];
  });
}

/** Where a link meets the box of a node; undefined where it meets only its comb. */
function endAt({ boxes, links }: SiteLayout, id: string, node: string): End | undefined {
  const points = links.get(id)?.points ?? [];
  const box = boxes.get(node);
  if (box === undefined) return undefined;
  const end = [points[0], points.at(-1)].find((point) => point !== undefined && meets(point, box));
  return end && { ...end, side: end.x === box.x ? -1 : 1 };
}

function meets({ x, y }: Point, box: Box): boolean {
  return (x === box.x || x === box.x + box.width) && y >= box.y && y <= box.y + box.height;
}
