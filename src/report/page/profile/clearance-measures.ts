/** Measures in user units of the drawing, which are CSS pixels. */
export const measures = {
  /** Of one hop, and of what lies between two nodes. */
  hop: 96,
  way: 76,
  /** The scale at the left edge. */
  edge: 46,
  line: 13,
  /** The name of a node over its hops. */
  band: 20,
  /** Between it and the wall: the mark of a hop that is too small or the narrowest, or nothing. */
  flag: 42,
  noFlag: 8,
  /** Wall above the highest opening. */
  wall: 12,
  /** The gauge of speeds. */
  gauge: 34,
  label: 30,
} as const;

/** Columns of text that fit into one hop. */
export const hopColumns = 14;
/** Columns of text that fit between two nodes. */
export const wayColumns = 13;
