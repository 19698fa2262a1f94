/** A rectangle in user units, from the top left of the drawing. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A point in user units. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A link where it is drawn. */
export interface PlacedLink {
  /** From the hub or the tier on the left to what is right of it; within a tier, from the upper. */
  readonly points: readonly Point[];
  /** Where its mark may be written; as wide as was asked for. */
  readonly mark: Box;
}

/** Where everything stands. */
export interface SiteLayout {
  readonly width: number;
  readonly height: number;
  readonly boxes: ReadonlyMap<string, Box>;
  readonly links: ReadonlyMap<string, PlacedLink>;
  /** What the bodies of hubs grow to reach the nodes in their combs, by the hub. */
  readonly combs: ReadonlyMap<string, readonly Box[]>;
  /** Ways from the bodies of hubs to combs that stand elsewhere. */
  readonly limbs: readonly Limb[];
}

/** The way from the body of a hub to a comb that stands between it and another hub. */
export interface Limb {
  readonly hub: string;
  readonly points: readonly Point[];
}

/** A box moved by `by`. */
export function movedBox(box: Box, by: Point): Box {
  return { ...box, x: box.x + by.x, y: box.y + by.y };
}

/** A way moved by `by`. */
export function movedPoints(points: readonly Point[], by: Point): Point[] {
  return points.map(({ x, y }) => ({ x: x + by.x, y: y + by.y }));
}

/** A link moved by `by`. */
export function movedLink({ points, mark }: PlacedLink, by: Point): PlacedLink {
  return { points: movedPoints(points, by), mark: movedBox(mark, by) };
}
