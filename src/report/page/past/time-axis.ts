import { type Markup, markup } from '../markup.ts';

/** Width of a chart's field, in user units. */
export const fieldWidth = 560;
/** Room for the words of the levels on its left, and for the last mark on its right. */
export const fieldLeft = 110;
const fieldRight = 24;
/** Width of a whole chart. */
export const chartWidth = fieldLeft + fieldWidth + fieldRight;

/** Times of a page's charts, one scale for all of them so that they can be read one under another. */
export interface TimeAxis {
  readonly from: string;
  readonly to: string;
  /** Where a time stands, from the left of the drawing. */
  readonly xOf: (at: string) => number;
}

/** A scale of time from the first night to the last; one night stands in the middle. */
export function timeAxis(nights: readonly { readonly startedAt: string }[]): TimeAxis {
  const from = nights[0]?.startedAt ?? '';
  const to = nights.at(-1)?.startedAt ?? from;
  const [first, last] = [Date.parse(from), Date.parse(to)];
  const share = (at: string) =>
    last > first ? Math.min(1, Math.max(0, (Date.parse(at) - first) / (last - first))) : 0.5;
  return { from, to, xOf: (at) => rounded(fieldLeft + share(at) * fieldWidth) };
}

/** A coordinate with one decimal: more than a screen shows, and short. */
export function rounded(value: number): number {
  return Math.round(value * 10) / 10;
}

/** The line of time below a field, with the first and the last day. */
export function axisMarkup({ from, to }: TimeAxis, y: number): Markup {
  const day = (at: string) => at.slice(0, 'YYYY-MM-DD'.length);
  const right = fieldLeft + fieldWidth;
  const last =
    day(from) === day(to)
      ? undefined
      : markup`<text class="day last" x="${right}" y="${y + 15}">${day(to)}</text>`;
  return markup`<path class="axis" d="M${fieldLeft} ${y}H${right}"/><text class="day" x="${fieldLeft}" y="${y + 15}">${day(from)}</text>${last}`;
}
