import type { SiteLink } from '../../site/types.ts';
import { placeWords, speedWords } from '../fact-words.ts';
import { runWords } from '../run-words.ts';
import { linkFragment } from './fragments.ts';
import { type Markup, markup } from './markup.ts';
import type { PageView } from './page-view.ts';
import { findingReference } from './references.ts';

/** Every declared link: what is declared of it, where, and what was found. */
export function linksSection(view: PageView): Markup | undefined {
  const { links } = view.result.site;
  if (links.length === 0) return undefined;
  const rows = links.map((link) => linkRow(link, view));
  return markup`<section id="links" aria-labelledby="links-head">
<h2 id="links-head">Links</h2>
<details><summary>${links.length} declared</summary>
<div class="scroll" role="group" tabindex="0" aria-label="declared links"><table data-facts="links"><thead><tr><th scope="col">link<th scope="col">run<th scope="col">speed<th scope="col">carries<th scope="col">declared at<th scope="col">findings<tbody>${rows}</table></div></details>
</section>`;
}

function linkRow({ declared }: SiteLink, view: PageView): Markup {
  const { id, run, speedMbps, untagged, tagged, place } = declared;
  const findings = view
    .findingsOn('link', id)
    .map((each, at) => markup`${at === 0 ? '' : '; '}${findingReference(each)}`);
  const carried = [...(untagged === undefined ? [] : [untagged]), ...tagged].join(', ');
  const cells = [
    runWords(run, true) || '\u2013',
    speedMbps === undefined ? '\u2013' : speedWords(speedMbps),
    carried || '\u2013',
    placeWords(place),
    findings,
  ];
  return markup`<tr id="${linkFragment(id)}"><th scope="row">${id}${cells.map((cell) => markup`<td>${cell}`)}
`;
}
