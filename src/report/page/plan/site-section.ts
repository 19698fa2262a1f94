import type { AuditResult } from '../../types.ts';
import { type LaterMarkup, laterOr } from '../later-markup.ts';
import { type Markup, markup } from '../markup.ts';
import type { Leads } from './leads.ts';
import { siteDrawings } from './site-drawing.ts';

/** Characters up to which a drawing stands open; a larger one is opened by who wants it. */
const openLengthMax = 250_000;
/** Drawings of one page, at most. */
const drawingsMax = 40;

/** Where the drawings of a section lead to, and whether what is shut may be packed. */
export interface SiteSectionLook {
  readonly leads: Leads;
  /** Absent: the page has no script to unpack anything. */
  readonly later?: LaterMarkup;
}

/** The site as a drawing of its nodes and links, or one for each segment where it is large. */
export function siteSection(result: AuditResult, look: SiteSectionLook): Markup | undefined {
  if (result.site.links.length === 0) return undefined;
  const drawings = siteDrawings(result, look.leads);
  const shown = drawings
    .slice(0, drawingsMax)
    .map(({ title, drawing }, at) =>
      at === 0 && drawing.text.length <= openLengthMax
        ? markup`<h3>${title}</h3>${drawing}`
        : shut(`site-sheet-${at + 1}`, title, laterDrawing(at, drawing, look)),
    );
  const left = drawings.length - shown.length;
  const more = left > 0 ? markup`<p>${left} more segments are not drawn here</p>` : undefined;
  return markup`<section id="site" aria-labelledby="site-head">
<h2 id="site-head">The site</h2>
${shown}${more}
</section>`;
}

function laterDrawing(at: number, drawing: Markup, { later }: SiteSectionLook): Markup {
  return laterOr(later, `site-sheet-${at + 1}`, drawing, 'the links below');
}

function shut(id: string, title: string, content: Markup): Markup {
  return markup`<details id="${id}"><summary>${title}</summary>${content}</details>`;
}
