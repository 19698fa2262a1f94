import type { AuditResult } from '../types.ts';
import { type Markup, markup } from './markup.ts';
import { siteDrawings } from './site-drawing.ts';

/** Drawings that stand open; of a large site the others are opened by who wants them. */
const openMax = 2;

/** The site as a drawing of its nodes and links, or one for each segment where it is large. */
export function siteSection(result: AuditResult): Markup | undefined {
  const drawings = siteDrawings(result);
  if (drawings.length === 0) return undefined;
  const shown = drawings.map(({ title, drawing }, at) =>
    at < openMax
      ? markup`<h3>${title}</h3>${drawing}`
      : markup`<details><summary>${title}</summary>${drawing}</details>`,
  );
  return markup`<section id="site" aria-labelledby="site-head">
<h2 id="site-head">The site</h2>
${shown}
</section>`;
}
