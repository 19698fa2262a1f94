import type { LinkElement } from '../diagnose/link-elements.ts';
import { speedWords } from './fact-words.ts';
import { clean, columnsOf, noBreak, padEnd, wrap } from './layout.ts';
import type { Paint } from './paint.ts';

/** `100 Mb/s` or `2.5 Gb/s` with two blanks. */
const cellColumns = 10;
/** `10 Gb/s full` with two blanks. */
const runsColumns = 15;
const markColumns = 2;
/** Below this the cells stand under their element. */
const besideColumnsMin = 64;

/** How surely an element limits the link, in words of its own line. */
const limitsWords = { is: '<- limits', likely: '<- likely', check: '<- check' } as const;
const limitsColumns = '<- limits'.length;

/** The elements of a link as a table, in order from end to end, what limits marked in place. */
export function elementLines(
  elements: readonly LinkElement[],
  { width, paint }: { readonly width: number; readonly paint: Paint },
): string[] {
  if (elements.length === 0) return [];
  const lines = width >= besideColumnsMin ? beside(elements, width) : beneath(elements, width);
  return ['', ...lines.map((line) => (line.limits ? paint.wrong(line.text) : line.text))];
}

interface Line {
  readonly text: string;
  readonly limits: boolean;
}

function beside(elements: readonly LinkElement[], width: number): readonly Line[] {
  const names = elements.map(nameOf);
  const room = width - markColumns - 2 * cellColumns - runsColumns - limitsColumns;
  const columns = Math.min(room, Math.max(...names.map(columnsOf)) + 2);
  const header = `${' '.repeat(markColumns)}${padEnd('', columns)}${padEnd('can', cellColumns)}${padEnd('offers', cellColumns)}runs at`;
  const rows = elements.flatMap((element, at) => {
    const lead = element.limits === undefined ? '  ' : '> ';
    const wrapped = wrap(lead, names[at] ?? '', markColumns + columns - 1);
    // Long names go on beneath; the cells stand in their first line.
    const [first = '', ...more] = wrapped;
    const text = `${padEnd(first, markColumns + columns)}${cellsOf(element)}`.trimEnd();
    return [text, ...more].map((each) => ({ text: each, limits: element.limits !== undefined }));
  });
  return [{ text: header, limits: false }, ...rows];
}

function beneath(elements: readonly LinkElement[], width: number): readonly Line[] {
  return elements.flatMap((element) => {
    const lead = element.limits === undefined ? '  ' : '> ';
    const words = [
      ...pair('can', element.canMbps),
      ...pair('offers', element.offersMbps ?? element.heardMbps),
      ...(element.runsMbps === undefined ? [] : [`runs at ${runsWords(element)}`]),
      ...(element.note === undefined ? [] : [clean(element.note)]),
      ...(element.limits === undefined ? [] : [limitsWords[element.limits].slice(3)]),
    ].join(', ');
    const name = wrap(lead, ownWords(element), width);
    const cells = words === '' ? [] : wrap('      ', words, width);
    return [...name, ...cells].map((text) => ({ text, limits: element.limits !== undefined }));
  });
}

function pair(word: string, mbps: number | undefined): readonly string[] {
  return mbps === undefined ? [] : [`${word} ${shortSpeed(mbps)}`];
}

/** A bus carries odd figures, of which a tenth of a Gb/s is enough. */
function shortSpeed(mbps: number): string {
  return speedWords(mbps < 1000 ? mbps : Math.floor(mbps / 100) * 100);
}

type NamedElement = Pick<LinkElement, 'text' | 'kind'>;

/** A bus and a module are called so: their systems' words do not say it. */
function ownWords({ text, kind }: NamedElement): string {
  const words = clean(text);
  return (kind === 'bus' || kind === 'module') && words !== kind ? `${kind} ${words}` : words;
}

/** What belongs to an end or to the run stands indented beneath it; no line breaks there. */
function nameOf({ text, kind }: NamedElement): string {
  const inner = kind !== 'end' && kind !== 'run';
  if (!inner) return clean(text);
  return `${noBreak}${noBreak}${ownWords({ text, kind })}`;
}

function cellsOf(element: LinkElement): string {
  const { canMbps, offersMbps, heardMbps, note, limits } = element;
  const offers = offersMbps ?? heardMbps;
  const cells = [
    padEnd(canMbps === undefined ? '' : shortSpeed(canMbps), cellColumns),
    padEnd(offers === undefined ? '' : speedWords(offers), cellColumns),
  ].join('');
  const told = [runsWords(element), note === undefined ? '' : clean(note)]
    .filter((words) => words !== '')
    .join(', ');
  const empty = cells.trim() === '' && element.runsMbps === undefined;
  const line = empty ? told : `${cells}${told}`;
  if (limits === undefined) return line;
  return `${padEnd(line, 2 * cellColumns + runsColumns)}${limitsWords[limits]}`;
}

function runsWords({ runsMbps, duplex }: LinkElement): string {
  if (runsMbps === undefined) return '';
  return duplex === undefined ? speedWords(runsMbps) : `${speedWords(runsMbps)} ${duplex}`;
}
