import type { AuditResult } from '../../types.ts';
import { type Markup, markup } from '../markup.ts';
import type { Leads } from './leads.ts';
import { siteDrawings } from './site-drawing.ts';

/** Drawings that stand open; of a large site the others are opened by who wants them. */
const openMax = 2;
/** Drawings of one page, at most. */
export const drawingsMax = 40;

/** The site as a drawing of its nodes and links, or one for each segment where it is large. */
export function siteSection(result: AuditResult, leads: Leads): Markup | undefined {
  const drawings = siteDrawings(result, leads);
  if (drawings.length === 0) return undefined;
  const shown = drawings
    .slice(0, drawingsMax)
    .map(({ title, drawing }, at) =>
      at < openMax
        ? markup`<h3>${title}</h3>${drawing}`
        : markup`<details><summary>${title}</summary>${drawing}</details>`,
    );
  const left = drawings.length - shown.length;
  const more = left > 0 ? markup`<p>${left} more segments are not drawn here</p>` : undefined;
  return markup`<section id="site" aria-labelledby="site-head">
<h2 id="site-head">The site</h2>
${shown}${more}
</section>`;
}
