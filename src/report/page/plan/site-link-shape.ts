import { speedWords } from '../../fact-words.ts';
import { columnsOf } from '../../layout.ts';
import { type Markup, markup } from '../markup.ts';
import type { Leads } from './leads.ts';
import { numberOf } from './link-state.ts';
import { findingCount, linkWords } from './link-words.ts';
import type { PlacedLink } from './site-layout-types.ts';
import type { Sheet } from './site-sheets.ts';
import type { SheetLink } from './whole-sheet.ts';

/** Width of a column of the words on links, in a fixed-width face at 11 px. */
const columnWidth = 6.7;
/** Links of a drawing up to which each carries its speed. */
const speedsMax = 60;

/** What is written on the links of one drawing. */
export type MarkRoom = (link: SheetLink) => string;

/** On small drawings each link carries its speed; on large ones only what is amiss is written. */
export function markRoomFor({ links }: Sheet): MarkRoom {
  const all = links.length <= speedsMax;
  return ({ reading, told }) => {
    if (reading.marks.length > 0) return reading.marks.join(', ');
    if (told.standing !== 'met') return findingCount(told.count);
    return all && reading.speedMbps !== undefined ? speedWords(reading.speedMbps) : '';
  };
}

/** Room that a mark takes, in user units. */
export function markWidth(mark: string): number {
  return mark === '' ? 0 : columnsOf(mark) * columnWidth + 4;
}

/** A link as a line with its mark; one of which there is something to say leads to its details. */
export function linkShape(
  link: SheetLink,
  placed: PlacedLink | undefined,
  { room, leads }: { readonly room: MarkRoom; readonly leads: Leads },
): Markup {
  const { reading, told, id } = link;
  const points = (placed?.points ?? []).map(({ x, y }) => `${round(x)} ${round(y)}`).join('L');
  const way = `M${points}`;
  const word = wordMarkup(room(link), placed);
  const words = linkWords(link);
  const attributes = markup`class="link ${reading.state} ${told.standing}" data-link="${id}" data-state="${reading.state}"${numbersOf(link)}`;
  const line = markup`<path class="line" d="${way}"/>${word}`;
  if (reading.state === 'as-declared' && told.standing === 'met')
    return markup`<g ${attributes}><title>${words}</title>${line}</g>
`;
  return markup`<a ${attributes} href="${targetOf(link, leads)}" aria-label="${words}"><title>${words}</title><path class="reach" d="${way}"/>${line}</a>
`;
}

function targetOf({ link, id, ends }: SheetLink, leads: Leads): string {
  return link === undefined ? leads.node(ends[0]) : leads.link(id, ends);
}

function wordMarkup(text: string, placed: PlacedLink | undefined): Markup | undefined {
  if (text === '' || placed === undefined) return undefined;
  const { x, y, width, height } = placed.mark;
  return markup`<rect class="masked" x="${round(x)}" y="${round(y)}" width="${round(width)}" height="${height}"/><text class="word" x="${round(x + 2)}" y="${round(y + 10)}">${text}</text>`;
}

/** Every number of the link, as the JSON form has them of its ports. */
function numbersOf({ link, reading }: SheetLink): Markup {
  const { speedMbps, ratedMbps, atMostBytes, wantedBytes } = reading;
  const own = markup`${data('slowest-mbps', speedMbps)}${data('rated-mbps', ratedMbps)}${data('at-most', atMostBytes)}${data('wanted', wantedBytes)}`;
  const ends = (link?.ends ?? []).map((end, at) => {
    const side = at === 0 ? 'a' : 'b';
    return markup` data-${side}="${end.id}"${data(`${side}-mbps`, numberOf(end, 'speedMbps'))}${data(`${side}-mtu`, numberOf(end, 'mtuBytes'))}`;
  });
  return markup`${own}${ends}`;
}

function data(name: string, value: number | undefined): Markup | undefined {
  return value === undefined ? undefined : markup` data-${name}="${value}"`;
}

function round(length: number): number {
  return Math.round(length * 10) / 10;
}
