/** Longest text that a device may put into one fact, in UTF-16 units. */
export const deviceTextLengthMax = 256;

/** Longest sentence of our own, with names in it, in UTF-16 units: what it says last counts too. */
export const sentenceLengthMax = 1000;

/**
 * C0, DEL and C1 controls, line and paragraph separators, zero-width and bidirectional controls,
 * byte order mark, interlinear and tag characters, lone surrogates: all that can move a cursor,
 * reorder a line or hide in it.
 */
export const unsafeCharacters =
  /[\u0000-\u001f\u007f-\u009f\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]|[\u{e0000}-\u{e007f}]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/gu;

/** Words of printable ASCII with single blanks between: most texts, and there is nothing to clean. */
const plainText = /^[!-~]+(?: [!-~]+)*$/;

/**
 * Text of a device, made safe to store and print: every character that is not plain text becomes
 * a space, runs of blanks become one, and it is cut at `lengthMax` with an ellipsis.
 */
export function cleanText(text: string, lengthMax: number = deviceTextLengthMax): string {
  if (text.length <= lengthMax && plainText.test(text)) return text;
  // Cut first, generously, so that a flood costs nothing; cut again after folding.
  const head = text.length > lengthMax * 8 ? text.slice(0, lengthMax * 8) : text;
  const folded = head.replace(unsafeCharacters, ' ').replace(/\s+/g, ' ').trim();
  if (folded.length <= lengthMax && head === text) return folded;
  return `${folded.slice(0, lengthMax - 1).replace(/[\ud800-\udbff]$/, '')}\u2026`;
}
