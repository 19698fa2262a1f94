import { useWords } from '../../hop-words.ts';
import { type Markup, markup } from '../markup.ts';
import { shorten } from '../shorten.ts';
import { measures, wayColumns } from './clearance-measures.ts';
import type { ClearancePlan, Row, Stop } from './clearance-plan.ts';
import { short } from './hatch.ts';
import type { Joint } from './path-spots.ts';

/** Where in the drawing a stop stands. */
export interface WayFrame {
  readonly row: Row;
  /** Of the column. */
  readonly width: number;
}

/** Whether a joint can be crossed now: `undeclared` and `open` say nothing against it. */
export type WayState = 'open' | 'idle' | 'down' | 'undeclared';

/** How a joint is drawn: what nothing uses is broken, what has no link is cut. */
export function wayState({ link }: Joint): WayState {
  if (link === undefined) return 'undeclared';
  const ends = [link.near, link.far];
  const facts = ends.map(({ port }) => port.subject.facts);
  if (facts.some(({ operUp, adminUp }) => operUp === false || adminUp === false)) return 'down';
  return ends.some(({ inUse }) => inUse === false) ? 'idle' : 'open';
}

/** Load and floor, from the node or the left edge to where the lane goes on. */
export function groundMarkup(
  { demandBytes, scale }: ClearancePlan,
  stop: Stop,
  { row, width }: WayFrame,
): Markup {
  const { left, right, next, spot } = stop;
  const to = next === undefined ? right : width;
  const floor = short(row.floor);
  const ground = spot && markup`<path class="floor" d="M${left} ${floor}H${right}"/>`;
  const from = spot === undefined ? 0 : right;
  const way = next && markup`<path class="way ${wayState(next)}" d="M${from} ${floor}H${width}"/>`;
  if (demandBytes === undefined) return markup`${ground}${way}`;
  const top = short(row.floor - scale.heightOf(demandBytes));
  return markup`<rect class="load" x="${left}" y="${top}" width="${to - left}" height="${short(floor - top)}"/><path class="load-top" d="M${left} ${top}H${to}"/>${ground}${way}`;
}

/** The declared packet on its way to the next node, what bars it, and what one can touch there. */
export function wayMarkup(
  { demandBytes, scale }: ClearancePlan,
  { next, ahead, spot, right, way }: Stop,
  { row, width }: WayFrame,
): Markup | undefined {
  if (next === undefined) return undefined;
  const middle = (right + width) / 2;
  const middleOfLoad = short(row.floor - scale.heightOf(demandBytes ?? 1500) / 2);
  if (spot === undefined)
    return markup`<text class="passing" x="${width / 2}" y="${middleOfLoad}">on to ${shorten(ahead ?? '', Math.floor(width / 8))} \u2192</text>`;
  const open = wayState(next) === 'open' || wayState(next) === 'undeclared';
  const packet =
    demandBytes === undefined
      ? undefined
      : markup`<text class="packet" x="${middle}" y="${middleOfLoad}">${demandBytes}${open ? markup` \u2192` : undefined}</text>`;
  return markup`${packet}${barMarkup(next, middle, short(row.floor))}<g class="run">${way.map(
    (line, at) =>
      markup`<text x="${middle}" y="${short(row.floor + 14 + at * measures.line)}">${shorten(line, wayColumns + 1)}</text>`,
  )}</g>`;
}

/** A bar across a way that nothing uses now, a gap between two where there is no link, and words. */
function barMarkup(joint: Joint, x: number, floor: number): Markup | undefined {
  const state = wayState(joint);
  if (state === 'open' || state === 'undeclared') return undefined;
  const bars =
    state === 'down'
      ? `M${x - 7} ${floor - 13}v15M${x + 7} ${floor - 13}v15`
      : `M${x} ${floor - 13}v15`;
  const lines = state === 'down' ? ['no link'] : barredLines(joint);
  return markup`<g class="bar ${state}"><path d="${bars}"/>${lines.map(
    (line, at) =>
      markup`<text x="${x}" y="${floor - 18 - (lines.length - 1 - at) * measures.line}">${line}</text>`,
  )}</g>`;
}

function barredLines({ link }: Joint): readonly string[] {
  const idle = [link?.near, link?.far].find((hop) => hop?.inUse === false);
  if (idle?.idleBecause === 'spanning-tree') return ['blocked'];
  if (idle?.idleBecause === 'lacp') return ['left out'];
  return idle === undefined ? [] : [useWords(idle)];
}
