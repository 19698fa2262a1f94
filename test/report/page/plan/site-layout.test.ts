import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupBy, type LayoutGraph } from '../../../../src/report/page/plan/site-graph.ts';
import { layoutSite } from '../../../../src/report/page/plan/site-layout.ts';
import type {
  Box,
  PlacedLink,
  Point,
  SiteLayout,
} from '../../../../src/report/page/plan/site-layout-types.ts';
import { graphs } from './graphs.ts';

const overlap = (a: Box, b: Box) =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** All pairs that overlap, of things sorted from top to bottom. */
function overlapping(things: readonly (readonly [string, Box])[]): string[] {
  const sorted = things.toSorted(([, a], [, b]) => a.y - b.y);
  return sorted.flatMap(([name, box], at) => {
    const found: string[] = [];
    for (const [other, next] of sorted.slice(at + 1)) {
      if (next.y >= box.y + box.height) break;
      if (overlap(box, next)) found.push(`${name} and ${other}`);
    }
    return found;
  });
}

/** Whether a line runs through the inside of a box (Liang and Barsky's clipping). */
function runsThrough(a: Point, b: Point, { x, y, width, height }: Box): boolean {
  const edges = [
    [a.x - b.x, a.x - (x + 0.5)],
    [b.x - a.x, x + width - 0.5 - a.x],
    [a.y - b.y, a.y - (y + 0.5)],
    [b.y - a.y, y + height - 0.5 - a.y],
  ] as const;
  let [from, to] = [0, 1];
  for (const [p, q] of edges) {
    if (p === 0 && q < 0) return false;
    if (p < 0) from = Math.max(from, q / p);
    if (p > 0) to = Math.min(to, q / p);
  }
  return from < to;
}

function crossedBoxes(layout: SiteLayout): string[] {
  const boxes = [...layout.boxes, ...marksOf(layout)];
  const limbs = layout.limbs.map(({ hub, points }): [string, PlacedWay] => [hub, { points }]);
  return [...layout.links, ...limbs].flatMap(([id, { points }]) =>
    points.slice(1).flatMap((point, at) => {
      const from = points[at] ?? point;
      return boxes
        .filter(([name, box]) => name !== `mark of ${id}` && runsThrough(from, point, box))
        .map(([name]) => `${id} through ${name}`);
    }),
  );
}

type PlacedWay = Pick<PlacedLink, 'points'>;

function marksOf({ links }: SiteLayout): [string, Box][] {
  return [...links]
    .filter(([, { mark }]) => mark.width > 0)
    .map(([id, { mark }]) => [`mark of ${id}`, mark]);
}

/** Whether a point is on the edge of a box, or of one of the teeth of its comb. */
function meets({ x, y }: Point, boxes: readonly Box[]): boolean {
  return boxes.some(
    (box) =>
      (Math.abs(x - box.x) < 0.01 || Math.abs(x - box.x - box.width) < 0.01) &&
      y >= box.y &&
      y <= box.y + box.height,
  );
}

function looseEnds({ links: drawn, boxes, combs }: SiteLayout, { links }: LayoutGraph): string[] {
  return links.flatMap(({ id, ends }) => {
    const points = drawn.get(id)?.points ?? [];
    const [first, last] = [points[0], points.at(-1)];
    const [a, b] = ends.map((end) => [boxes.get(end) ?? [], combs.get(end) ?? []].flat());
    if (first === undefined || last === undefined || a === undefined || b === undefined)
      return [id];
    const joined = (meets(first, a) && meets(last, b)) || (meets(first, b) && meets(last, a));
    return joined ? [] : [id];
  });
}

/** Level and upright pieces of different links that lie on each other. */
function onEachOther({ links }: SiteLayout): string[] {
  const pieces = [...links].flatMap(([id, { points }]) =>
    points.slice(1).flatMap((point, at) => {
      const from = points[at] ?? point;
      if (from.y === point.y)
        return [{ id, line: `y ${point.y}`, ends: [from.x, point.x].sort((a, b) => a - b) }];
      if (from.x === point.x)
        return [{ id, line: `x ${point.x}`, ends: [from.y, point.y].sort((a, b) => a - b) }];
      return [];
    }),
  );
  return [...groupBy(pieces, ({ line }) => line).values()].flatMap((group) => {
    const sorted = group.toSorted((a, b) => (a.ends[0] ?? 0) - (b.ends[0] ?? 0));
    return sorted.slice(1).flatMap(({ id, ends }, at) => {
      const before = sorted[at];
      const apart = (before?.ends[1] ?? 0) <= (ends[0] ?? 0);
      return apart || before?.id === id ? [] : [`${before?.id} and ${id}`];
    });
  });
}

const settings = { numRuns: 150 };

describe('the layout of any site', () => {
  it('places every node and link once, within its edges, and joins what is linked', () => {
    fc.assert(
      fc.property(graphs(200), (graph) => {
        const layout = layoutSite(graph);
        expect(new Set(layout.boxes.keys())).toEqual(new Set(graph.nodes.map(({ id }) => id)));
        expect(new Set(layout.links.keys())).toEqual(new Set(graph.links.map(({ id }) => id)));
        expect(looseEnds(layout, graph)).toEqual([]);
        const { width, height } = layout;
        const things = [...layout.boxes, ...marksOf(layout)];
        const outside = things.filter(
          ([, box]) =>
            box.x < 0 || box.y < 0 || box.x + box.width > width || box.y + box.height > height,
        );
        expect(outside).toEqual([]);
      }),
      settings,
    );
  });

  it('lets no boxes and no marks overlap', () => {
    fc.assert(
      fc.property(graphs(200), (graph) => {
        const layout = layoutSite(graph);
        expect(overlapping([...layout.boxes, ...marksOf(layout)])).toEqual([]);
      }),
      settings,
    );
  });

  it('grows no comb over a node or a mark', () => {
    fc.assert(
      fc.property(graphs(60), (graph) => {
        const layout = layoutSite(graph);
        const things = [...layout.boxes, ...marksOf(layout)];
        const over = [...layout.combs].flatMap(([hub, bars]) =>
          bars.flatMap((bar) =>
            things.filter(([, box]) => overlap(bar, box)).map(([name]) => `${hub} over ${name}`),
          ),
        );
        expect(over).toEqual([]);
      }),
      settings,
    );
  });

  it('runs no link through a node or through the mark of another', () => {
    fc.assert(
      fc.property(graphs(60), (graph) => {
        expect(crossedBoxes(layoutSite(graph))).toEqual([]);
      }),
      settings,
    );
  });

  it('lays no two links on each other', () => {
    fc.assert(
      fc.property(graphs(60), (graph) => {
        expect(onEachOther(layoutSite(graph))).toEqual([]);
      }),
      settings,
    );
  });

  it('gives an equal layout for an equal graph', () => {
    fc.assert(
      fc.property(graphs(60), (graph) => {
        expect(layoutSite(structuredClone(graph))).toEqual(layoutSite(graph));
      }),
      { numRuns: 40 },
    );
  });

  it('has boxes as wide as their names need, and marks as wide as their words', () => {
    fc.assert(
      fc.property(graphs(60), (graph) => {
        const { boxes, links } = layoutSite(graph);
        const narrow = graph.nodes.filter(({ id, width }) => (boxes.get(id)?.width ?? 0) < width);
        expect(narrow).toEqual([]);
        expect(graph.links.map(({ id }) => links.get(id)?.mark.width)).toEqual(
          graph.links.map(({ markWidth }) => markWidth),
        );
      }),
      { numRuns: 40 },
    );
  });
});
