import { dictionary } from '../../../facts/dictionary.ts';
import type { FactValue } from '../../../facts/entry.ts';
import { factWords, speedWords, valueWords } from '../../fact-words.ts';
import { timeWords } from '../../summary-line.ts';
import { type Markup, markup } from '../markup.ts';
import type { PortCourse, Stretch } from './port-courses.ts';
import {
  axisMarkup,
  chartWidth,
  fieldLeft,
  fieldWidth,
  rounded,
  type TimeAxis,
} from './time-axis.ts';

/** Values that each have a level of their own; of more the height goes by the number. */
const levelsMax = 6;
const levelStep = 22;
const fieldTop = 10;
const footRoom = 24;

/**
 * One fact of a port over the nights as a line of steps: a level for each value with its words and
 * unit. A stretch that was not read is a hatched gap with a question mark, and no line goes through
 * it; nothing that is not known is ever drawn as a value. The numbers are in a table below.
 */
export function stepChart(course: PortCourse, axis: TimeAxis, at: ChartPlace): Markup {
  const { id, of } = at;
  const heights = heightsOf(course);
  const floor = fieldTop + heights.height;
  const name = courseName(course);
  return markup`<figure class="past-chart"><figcaption>${name}</figcaption>
<svg class="steps" role="img" viewBox="0 0 ${chartWidth} ${floor + footRoom}" width="${chartWidth}" height="${floor + footRoom}" aria-labelledby="${id}-title ${id}-desc" data-of="${of}" data-fact="${course.fact}">
<title id="${id}-title">${of}: ${name}</title>
<desc id="${id}-desc">${course.stretches.map((each) => stretchWords(each, course)).join('; ')}</desc>
${heights.marks.map(({ words, up }) => levelMarkup(words, rounded(floor - up)))}
${course.stretches.filter(({ gap }) => gap !== undefined).map((each) => gapMarkup(each, axis, floor))}
${lines(course, { axis, floor, heights })}
${axisMarkup(axis, floor)}
</svg>${courseTable(course, name)}</figure>`;
}

/** Where a chart stands: what its parts are called, and what it is about. */
export interface ChartPlace {
  /** Prefix of the ids in it, unique on the page. */
  readonly id: string;
  /** `node:port`. */
  readonly of: string;
}

interface Heights {
  readonly height: number;
  /** Above the floor. */
  readonly of: (value: FactValue) => number;
  readonly marks: readonly { readonly words: string; readonly up: number }[];
}

function heightsOf(course: PortCourse): Heights {
  const values = [...new Set(course.stretches.flatMap(({ value }) => value ?? []))];
  const sorted = values.toSorted((a, b) =>
    typeof a === 'number' && typeof b === 'number' ? a - b : String(a) < String(b) ? -1 : 1,
  );
  const numbers = sorted.filter((value) => typeof value === 'number');
  if (sorted.length <= levelsMax || numbers.length < sorted.length) {
    const up = (value: FactValue) => levelStep * (sorted.indexOf(value as never) + 0.5);
    const marks = sorted.map((value) => ({ words: courseValue(course, value), up: up(value) }));
    return { height: levelStep * sorted.length, of: up, marks };
  }
  const height = levelStep * levelsMax;
  const [least, most] = [course.counted ? 0 : (numbers[0] ?? 0), numbers.at(-1) ?? 1];
  const of = (value: FactValue) =>
    levelStep / 2 + ((Number(value) - least) / (most - least)) * (height - levelStep);
  const marks = [least, most].map((value) => ({
    words: courseValue(course, value),
    up: of(value),
  }));
  return { height, of, marks };
}

function levelMarkup(words: string, y: number): Markup {
  return markup`<path class="level" d="M${fieldLeft} ${y}h${fieldWidth}"/><text class="value" x="${fieldLeft - 6}" y="${y + 4}">${words}</text>`;
}

interface Field {
  readonly axis: TimeAxis;
  readonly floor: number;
  readonly heights: Heights;
}

/** Each stretch is a level line of its own; where a value follows a value a riser joins the two. */
function lines({ stretches }: PortCourse, { axis, floor, heights }: Field): Markup[] {
  return stretches.flatMap(({ from, to, value }, at) => {
    if (value === undefined) return [];
    const [left, right] = [axis.xOf(from), axis.xOf(to)];
    const y = rounded(floor - heights.of(value));
    const before = stretches[at - 1];
    const riser =
      before?.value === undefined
        ? ''
        : `M${left} ${rounded(floor - heights.of(before.value))}V${y}`;
    const isLast = at === stretches.length - 1 || left === right;
    const mark = isLast ? markup`<circle class="now" cx="${right}" cy="${y}" r="3.5"/>` : undefined;
    return [
      markup`<path class="step" d="${riser}M${left} ${y}H${right}" data-from="${from}" data-to="${to}" data-value="${String(value)}"/>${mark}`,
    ];
  });
}

/** Narrower than this a gap would not be seen. */
const gapWidthMin = 5;

function gapMarkup({ from, to, gap }: Stretch, axis: TimeAxis, floor: number): Markup {
  const left = axis.xOf(from);
  const width = rounded(Math.max(gapWidthMin, axis.xOf(to) - left));
  const sign =
    width < 12
      ? undefined
      : markup`<text x="${rounded(left + width / 2)}" y="${rounded((floor + fieldTop) / 2 + 4)}">?</text>`;
  return markup`<g class="gap" data-from="${from}" data-to="${to}" data-gap="${gap}"><rect x="${left}" y="${fieldTop}" width="${width}" height="${floor - fieldTop}"/>${sign}</g>`;
}

function courseTable(course: PortCourse, name: string): Markup {
  const rows = course.stretches.map(
    ({ from, to, value, gap }) =>
      markup`<tr><td>${timeWords(from)}</td><td>${timeWords(to)}</td><td>${value === undefined ? markup`<i>${gap}</i>` : courseValue(course, value)}</td></tr>`,
  );
  return markup`<details><summary>as a table</summary><table><caption>${name}</caption><thead><tr><th scope="col">from</th><th scope="col">to</th><th scope="col">value</th></tr></thead><tbody>${rows}</tbody></table></details>`;
}

function stretchWords({ from, to, value, gap }: Stretch, course: PortCourse): string {
  const said = value === undefined ? gap : courseValue(course, value);
  return `${timeWords(from)} to ${timeWords(to)}: ${said}`;
}

/** `MTU`, `speed`, `rx CRC errors added since the first night shown`. */
function courseName({ fact, counted }: PortCourse): string {
  const words = fact === 'operUp' ? 'link' : factWords(`port.${fact}`);
  return counted === true ? `${words}, added since the first night shown` : words;
}

function courseValue({ fact, counted }: PortCourse, value: FactValue): string {
  if (fact === 'operUp') return value === true ? 'up' : 'down';
  if (counted === true) return valueWords(value);
  const unit = dictionary.port[fact]?.unit;
  return unit === 'Mb/s' && typeof value === 'number' ? speedWords(value) : valueWords(value, unit);
}
