/** A box in user units. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Slanting lines that fill a box, as the `d` of a path: a pattern that needs no id and prints. */
export function hatch({ x, y, width, height }: Box, step: number): string {
  const lines: string[] = [];
  for (let at = step - height; at < width; at += step) {
    const from = Math.max(at, 0);
    const to = Math.min(at + height, width);
    const rise = to - from;
    if (rise <= 0) continue;
    lines.push(
      `M${short(x + from)} ${short(y + height - (from - at))}l${short(rise)} ${short(-rise)}`,
    );
  }
  return lines.join('');
}

/** A coordinate as a whole number: sharp lines, and half the text. */
export function short(value: number): number {
  return Math.round(value);
}
