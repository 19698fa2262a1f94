import { clean } from '../../layout.ts';
import { type Markup, markup } from '../markup.ts';
import { shorten } from '../shorten.ts';
import { hopColumns, measures } from './clearance-measures.ts';
import { type OpeningFrame, openingMarkup } from './clearance-opening.ts';
import type { Cell } from './clearance-plan.ts';
import { short } from './hatch.ts';
import { isWrongDuplex, packetLine } from './hop-lines.ts';
import { type HopView, isFlagged } from './hop-view.ts';
import { gaugeMarkup } from './speed-gauge.ts';

/** One hop: its mark, its opening, its words, and its speed beneath. */
export function cellMarkup(
  cell: Cell,
  frame: OpeningFrame,
  fastestMbps: number | undefined,
): Markup {
  const { view, x, state, rate } = cell;
  const { row } = frame;
  const { port } = view.hop;
  const name = port.id.startsWith(`${port.node}:`) ? port.id.slice(port.node.length + 1) : port.id;
  const middle = x + measures.hop / 2;
  const line = (at: number) => short(row.floor + 14 + at * measures.line);
  return markup`<g class="${classesOf(view)}"${numbersOf(view)}><title>${clean(port.id)}</title>${openingMarkup(cell, frame)}${flagMarkup(view, middle, row.band + measures.band)}<text class="port" x="${middle}" y="${line(0)}">${shorten(name, hopColumns)}</text><text class="bytes" x="${middle}" y="${line(1) + 2}">${packetLine(view)}</text>${state.map(
    (words, at) =>
      markup`<text class="state" x="${middle}" y="${line(at + 2) + 2}">${words}</text>`,
  )}${gaugeMarkup(cell, short(row.gauge), fastestMbps)}${rate.map(
    (words, at) =>
      markup`<text class="rate" x="${middle}" y="${short(row.gauge + measures.gauge + 13 + at * measures.line)}">${words}</text>`,
  )}</g>`;
}

function classesOf(view: HopView): string {
  const { hop, stand, ratedMbps } = view;
  const below = hop.speedMbps !== undefined && ratedMbps !== undefined && hop.speedMbps < ratedMbps;
  return [
    'hop',
    stand.replace(' ', '-'),
    ...(hop.clearance.onWord ? ['on-word'] : []),
    ...(view.narrowest ? ['narrowest'] : []),
    ...(below || isWrongDuplex(view) ? ['below'] : []),
    ...(hop.inUse === false ? ['idle'] : []),
  ].join(' ');
}

/** The numbers of a hop; what the JSON form does not have is absent here. */
function numbersOf({ hop, ratedMbps }: HopView): Markup {
  const { atLeastBytes, atMostBytes } = hop.clearance;
  const number = (name: string, value: number | undefined) =>
    value === undefined ? undefined : markup` data-${name}="${value}"`;
  return markup` data-port="${hop.port.id}"${number('at-least', atLeastBytes)}${number('at-most', atMostBytes)}${number('speed', hop.speedMbps)}${number('rated', ratedMbps)}`;
}

/** What must be seen first: a flag over the narrowest hop, and over each that is too small. */
function flagMarkup(
  { stand, narrowest }: HopView,
  middle: number,
  top: number,
): Markup | undefined {
  if (!isFlagged({ stand, narrowest })) return undefined;
  const words = [...(narrowest ? ['narrowest'] : []), ...(stand === 'too small' ? [stand] : [])];
  const [y, low] = [short(top + 3), short(top + 31)];
  const [left, right] = [middle - 40, middle + 40];
  const first = short(top + (words.length === 1 ? 21 : 15));
  return markup`<g class="flag"><path d="M${left} ${y}H${right}V${low}H${middle + 7}L${middle} ${low + 10}L${middle - 7} ${low}H${left}Z"/>${words.map(
    (word, at) => markup`<text x="${middle}" y="${first + at * 12}">${word}</text>`,
  )}</g>`;
}
