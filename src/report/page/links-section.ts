import type { SiteLink } from '../../site/types.ts';
import { placeWords, speedWords } from '../fact-words.ts';
import { runWords } from '../run-words.ts';
import { linkFragment } from './fragments.ts';
import { type LaterMarkup, laterOr } from './later-markup.ts';
import { joined, type Markup, markup } from './markup.ts';
import type { PageView } from './page-view.ts';
import { findingReference } from './references.ts';

/** Links whose table stands in the page openly; that of more is packed. */
const openMax = 400;

/** Every declared link: what is declared of it, where, and what was found. */
export function linksSection(view: PageView, later: LaterMarkup): Markup | undefined {
  const { links } = view.result.site;
  if (links.length === 0) return undefined;
  const shut = links.length > openMax ? later : undefined;
  const table = laterOr(shut, 'links-table', linkTable(view), 'the intent');
  return markup`<section id="links" aria-labelledby="links-head">
<h2 id="links-head">Links</h2>
<details id="links-table"><summary>${links.length} declared</summary>
${table}</details>
</section>`;
}

function linkTable(view: PageView): Markup {
  const rows = view.result.site.links.map((link) => linkRow(link, view));
  return markup`<div class="scroll" role="group" tabindex="0" aria-label="declared links"><table data-facts="links"><thead><tr><th scope="col">link<th scope="col">run<th scope="col">speed<th scope="col">carries<th scope="col">declared at<th scope="col">findings<tbody>${rows}</table></div>`;
}

function linkRow({ declared }: SiteLink, view: PageView): Markup {
  const { id, run, speedMbps, untagged, tagged, place } = declared;
  const findings = joined(view.findingsOn('link', id).map(findingReference), '; ');
  const carried = [...(untagged === undefined ? [] : [untagged]), ...tagged].join(', ');
  const cells = [
    runWords(run, true) || '\u2013',
    speedMbps === undefined ? '\u2013' : speedWords(speedMbps),
    carried || '\u2013',
    placeWords(place),
    findings,
  ];
  return markup`<tr id=${linkFragment(id)}><th>${id}${cells.map((cell) => markup`<td>${cell}`)}
`;
}
