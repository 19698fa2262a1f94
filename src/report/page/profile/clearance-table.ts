import type { SitePath } from '../../../site/types.ts';
import { speedWords } from '../../fact-words.ts';
import { clean } from '../../layout.ts';
import type { LinkOf } from '../../link-rating.ts';
import { type Markup, markup } from '../markup.ts';
import { type ClearancePlan, clearancePlan, type Stop } from './clearance-plan.ts';
import { wayWords } from './column-words.ts';
import { deadWords, packetLine, stateLines } from './hop-lines.ts';
import type { HopView } from './hop-view.ts';

const columns = ['hop', 'passes, bytes', 'state', 'speed', 'meant to be', 'duplex', 'what follows'];

/**
 * The facts of `clearanceDrawing` as a table, for who does not see the drawing: a row for each hop,
 * in the order of the drawing, and a heading for each way beside the first.
 */
export function clearanceTable(path: SitePath, linkOf: LinkOf): Markup {
  const plan = clearancePlan(path, linkOf);
  const { demandBytes } = plan;
  const declared =
    demandBytes === undefined ? 'no packet is declared' : `declared packet ${demandBytes} bytes`;
  return markup`<div class="sideways" role="group" tabindex="0" aria-label="${clean(path.id)}, hop by hop">
<table class="hops"><caption>${clean(path.id)}, hop by hop: ${declared}</caption>
<thead><tr>${columns.map((name) => markup`<th scope="col">${name}</th>`)}</tr></thead>
${plan.rows.map((_, row) => bodyMarkup(plan, row))}
</table>
</div>`;
}

function bodyMarkup({ columns: all, rows }: ClearancePlan, row: number): Markup {
  const stops = all.flatMap(({ stops: each }) => each.filter((stop) => stop.row === row));
  const label = rows[row]?.label?.join(' ');
  const heading =
    label === undefined
      ? undefined
      : markup`<tr><th scope="rowgroup" colspan="${columns.length}">${label}</th></tr>`;
  return markup`<tbody>${heading}${stops.map(stopRows)}</tbody>`;
}

function stopRows({ spot, cells, next }: Stop): Markup {
  if (spot === undefined) return markup``;
  const follows = next === undefined ? '' : wayWords(next, spot);
  if (cells.length === 0)
    return markup`<tr><th scope="row">${clean(spot.node)}</th><td>not known</td><td>no port known</td><td></td><td></td><td></td><td>${follows}</td></tr>`;
  return markup`${cells.map(({ view }, at) => hopRow(view, at === cells.length - 1 ? follows : ''))}`;
}

function hopRow(view: HopView, follows: string): Markup {
  const { hop, ratedMbps } = view;
  const { port, clearance, layer, speedMbps, duplex } = hop;
  const known = clearance.atLeastBytes !== undefined || clearance.atMostBytes !== undefined;
  const state = [
    ...stateLines(view),
    ...(known ? [] : [clean(clearance.gap?.words ?? '')]),
    view.narrowest ? 'narrowest' : '',
    view.slowest ? 'slowest' : '',
  ].filter((words) => words !== '');
  const unknown = layer ? '' : 'not known';
  const rate = speedMbps === undefined ? deadWords(view) || unknown : speedWords(speedMbps);
  const meant = ratedMbps === undefined ? unknown : speedWords(ratedMbps);
  const packet = known ? packetLine(view) : 'not known';
  return markup`<tr><th scope="row">${clean(port.id)}</th><td class="number">${packet}</td><td>${state.join(', ')}</td><td class="rate">${rate}</td><td class="rate">${meant}</td><td>${duplex ?? unknown}</td><td>${follows}</td></tr>`;
}
