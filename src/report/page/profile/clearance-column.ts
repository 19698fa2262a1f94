import { clean } from '../../layout.ts';
import { type Markup, markup } from '../markup.ts';
import { shorten } from '../shorten.ts';
import { cellMarkup } from './clearance-cell.ts';
import { edgeMarkup } from './clearance-edge.ts';
import { measures } from './clearance-measures.ts';
import type { ClearancePlan, Column, Row, Stop } from './clearance-plan.ts';
import { groundMarkup, wayMarkup } from './clearance-way.ts';
import { columnWords } from './column-words.ts';
import { short } from './hatch.ts';

/** One column of a plan as a drawing: a node in each row, and the way to the next one. */
export function columnMarkup(plan: ClearancePlan, at: number): Markup {
  const column = plan.columns[at];
  if (column === undefined) return markup``;
  const { width, stops } = column;
  const last = Math.max(0, ...stops.map(({ row }) => row));
  const height = short(plan.rows[last]?.bottom ?? 0);
  const { title, desc } = columnWords(stops);
  const wide = width > measures.edge + 2 * measures.hop + measures.way;
  return markup`<svg${wide ? markup` class="wide"` : undefined} role="img" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">
<title>${title}</title><desc>${desc}</desc>
${stems(plan, column)}${stops.map((stop) => stopMarkup(plan, stop, width))}${at === 0 ? edgeMarkup(plan) : undefined}
</svg>`;
}

function stopMarkup(plan: ClearancePlan, stop: Stop, width: number): Markup {
  const row = plan.rows[stop.row];
  if (row === undefined) return markup``;
  const frame = { row, scale: plan.scale, demandBytes: plan.demandBytes };
  return markup`${stop.spot === undefined ? undefined : labelMarkup(stop, row)}${groundMarkup(plan, stop, { row, width })}${
    stop.spot === undefined ? undefined : bandMarkup(stop, row)
  }${stop.cells.map((cell) => cellMarkup(cell, frame, plan.fastestMbps))}${wayMarkup(plan, stop, { row, width })}`;
}

function labelMarkup({ again, left, right }: Stop, { label, top }: Row): Markup | undefined {
  if (label === undefined || again !== 'parts') return undefined;
  return markup`<text class="label" x="${left + 4}" y="${short(top + 11)}">${label.map(
    (line, at) =>
      markup`<tspan x="${Math.min(left + 4, right)}" dy="${at === 0 ? 0 : 13}">${shorten(line, 30)}</tspan>`,
  )}</text>`;
}

function bandMarkup({ spot, left, right, again, cells }: Stop, { band, floor }: Row): Markup {
  const router = spot?.position === 'router';
  const name = spot?.node ?? '';
  const columns = Math.floor((right - left - 16) / 7) - (router ? 9 : 0);
  const [from, to] = [left + 2, right - 2];
  const [y, low] = [short(band), short(band + measures.band)];
  const middle = short(band + measures.band / 2);
  const shape = router
    ? `M${from} ${middle}L${from + 9} ${y}H${to - 9}L${to} ${middle}L${to - 9} ${low}H${from + 9}Z`
    : `M${from} ${y}H${to}V${low}H${from}Z`;
  const empty =
    cells.length === 0
      ? markup`<text class="state" x="${(left + right) / 2}" y="${short(floor + 27)}">no port known</text>`
      : undefined;
  return markup`<g class="${again === undefined ? 'node' : 'node again'}"><title>${clean(name)}${router ? markup`, router` : undefined}</title><path class="body" d="M${from} ${low}V${short(floor)}M${to} ${low}V${short(floor)}"/><path class="band" d="${shape}"/><text x="${(left + right) / 2}" y="${short(band + 14)}">${shorten(name, columns)}${router ? markup` (router)` : undefined}</text>${empty}</g>`;
}

/** Lines from a node down to the rows in which it stands again: there ways part or join. */
function stems({ rows }: ClearancePlan, { stops }: Column): Markup[] {
  return stops.flatMap((stop) => {
    const row = rows[stop.row];
    const home = stops.find(({ spot, again }) => spot === stop.spot && again === undefined);
    const from = rows[home?.row ?? 0];
    if (stop.again === undefined || row === undefined || from === undefined) return [];
    const x = stop.again === 'parts' ? stop.right - 3 : stop.left + 3;
    return [markup`<path class="stem" d="M${x} ${short(from.floor)}V${short(row.band)}"/>`];
  });
}
