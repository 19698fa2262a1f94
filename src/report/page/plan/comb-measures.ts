/** Width of the spine and the teeth of a comb, in user units. */
export const barWidth = 5;
/** Height of a row for each link of the node in it. */
export const rowHeight = 15;
/** Height of the box of a node in a comb at least. */
export const leafHeightMin = 20;
/** Between two boxes of a comb. */
export const rowGap = 4;
/** Shortest link in a comb. */
export const stubMin = 16;
/** Between the words on a link and the node: room for the tie of an aggregate. */
export const tieRoom = 11;
/** Height of the words on a link. */
export const markHeight = 13;
