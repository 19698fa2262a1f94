import { speedWords } from '../../fact-words.ts';
import { type Markup, markup } from '../markup.ts';
import { measures } from './clearance-measures.ts';
import type { ClearancePlan, Row } from './clearance-plan.ts';
import { short } from './hatch.ts';
import { gaugeHeight } from './speed-gauge.ts';

/** The scales at the left edge of the first row: packets in bytes, and the highest speed. */
export function edgeMarkup({ rows, scale, demandBytes, fastestMbps }: ClearancePlan): Markup {
  const [row] = rows;
  if (row === undefined) return markup``;
  const ticks = scale.ticks.map((bytes) => {
    const y = row.floor - scale.heightOf(bytes);
    return markup`<path d="M${measures.edge - 8} ${short(y)}h7"/><text${bytes === demandBytes ? markup` class="demand"` : undefined} x="${measures.edge - 10}" y="${short(y + 3.5)}">${bytes}</text>`;
  });
  return markup`<g class="edge"><text x="${measures.edge - 10}" y="${short(row.floor - scale.heightMax - 12)}">bytes</text><path d="M${measures.edge - 1} ${short(row.floor)}v${short(-scale.heightMax)}"/>${ticks}${speedEdge(row, fastestMbps)}</g>`;
}

function speedEdge({ gauge }: Row, fastestMbps: number | undefined): Markup | undefined {
  if (fastestMbps === undefined) return undefined;
  const y = gauge + measures.gauge - gaugeHeight(fastestMbps, fastestMbps);
  return markup`<path d="M${measures.edge - 8} ${short(y)}h7"/><text x="${measures.edge - 10}" y="${short(y + 3.5)}">${speedWords(fastestMbps).replace(' ', '\u00a0')}</text><path d="M${measures.edge - 1} ${short(gauge + measures.gauge)}V${short(y)}"/>`;
}
