import type { SitePath } from '../../../site/types.ts';
import { clean } from '../../layout.ts';
import type { LinkOf } from '../../link-rating.ts';
import { pathVerdict } from '../../path-words.ts';
import { type Markup, markup } from '../markup.ts';
import { columnMarkup } from './clearance-column.ts';
import { clearancePlan } from './clearance-plan.ts';

/**
 * A path as a clearance profile: its hops from left to right, each an opening as high as the packet
 * that it passes, and the declared packet as the load that must go through all of them. What strikes
 * is filled in, crossed and named; what is not read has no lintel and a question mark; what is not
 * settled is hatched from what passes for certain to what passes at most. Under each opening stands
 * its speed against what it should be. Ways beside the first have rows of their own.
 *
 * Each node is a drawing of its own, so that a long path goes on in the next line, on a narrow
 * screen and on paper. Numbers are in `data-` attributes as in the JSON form; what is absent there is
 * absent here. `id` is unique on the page; `clearanceTable` has the same facts. `above` stands
 * between what is said of the path and its drawing, which may be long.
 */
export function clearanceDrawing(
  path: SitePath,
  id: string,
  linkOf: LinkOf,
  above?: Markup,
): Markup {
  const plan = clearancePlan(path, linkOf);
  const { demandBytes, columns } = plan;
  const declared = demandBytes === undefined ? undefined : markup` data-declared="${demandBytes}"`;
  return markup`<figure class="clearance"${declared}>
<figcaption id="${id}-says">${pathVerdict(path)}</figcaption>
${above}<div class="profile" role="group" tabindex="0" aria-label="${clean(path.id)}: ${path.from} to ${path.to}, node by node" aria-describedby="${id}-says">
${columns.map((_, at) => columnMarkup(plan, at))}
</div>
</figure>`;
}
