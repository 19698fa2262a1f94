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
}
