import type { AuditResult } from '../../types.ts';
import { type Markup, markup } from '../markup.ts';
import { type Leads, onThisPage } from './leads.ts';
import { linkWords } from './link-words.ts';
import { graphOf } from './sheet-graph.ts';
import { leastWidth } from './site-drawing-style.ts';
import { siteKey } from './site-key.ts';
import { layoutSite } from './site-layout.ts';
import { linkShape, markRoomFor } from './site-link-shape.ts';
import { nodeShape } from './site-node-shape.ts';
import { type Sheet, sheetsOf } from './site-sheets.ts';
import { siteTable } from './site-table.ts';
import { tiesOf } from './site-ties.ts';

const margin = 14;

/**
 * The site as nodes in tiers and links between them: one drawing, or one for each segment of a large
 * site. Each comes with a key of the patterns that it uses, and with a table of its links that says
 * the same in words. Nodes, and links of which there is something to say, lead to their details.
 */
export function siteDrawings(
  result: AuditResult,
  leads: Leads = onThisPage,
): readonly { readonly title: string; readonly drawing: Markup }[] {
  return sheetsOf(result).map((sheet, at) => ({
    title: sheet.title,
    drawing: sheetMarkup(sheet, `site-${at + 1}`, leads),
  }));
}

function sheetMarkup(sheet: Sheet, id: string, leads: Leads): Markup {
  const room = markRoomFor(sheet);
  const layout = layoutSite(graphOf(sheet, room));
  const links = sheet.links.map((link) =>
    linkShape(link, layout.links.get(link.id), { room, leads }),
  );
  const nodes = sheet.nodes.map((node) =>
    nodeShape(node, layout.boxes.get(node.id), {
      bars: layout.combs.get(node.id) ?? [],
      limbs: layout.limbs.filter(({ hub }) => hub === node.id),
      leads,
    }),
  );
  const [width = 0, height = 0] = [layout.width, layout.height].map(
    (length) => Math.ceil(length) + 2 * margin,
  );
  return markup`<div class="site-sheet"><svg class="site least-${leastWidth(width)}" role="group" viewBox="${-margin} ${-margin} ${width} ${height}" width="${width}" height="${height}" aria-labelledby="${id}-title" aria-describedby="${id}-desc">
<title id="${id}-title">${sheet.title}: nodes and links</title>
<desc id="${id}-desc">${describe(sheet)}</desc>
${links}${tiesOf(sheet, layout)}${nodes}</svg></div>
${siteKey(sheet, room)}${siteTable(sheet, leads)}`;
}

/** What there is, and each link that is not as declared; the table has the rest. */
function describe({ nodes, links }: Sheet): string {
  const amiss = links.filter(({ reading }) => reading.marks.length > 0);
  const named = amiss.slice(0, namedMax).map((link) => `; ${linkWords(link)}`);
  const left = amiss.length - named.length;
  const counts = `${nodes.length} nodes, ${links.length} links, ${links.length - amiss.length} of them as declared`;
  return `${counts}${named.join('')}${left > 0 ? `; ${left} more, in the table` : ''}`;
}

/** Links that a description names. */
const namedMax = 12;
