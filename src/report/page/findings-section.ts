import { type Finding, severities } from '../../judge/types.ts';
import { type CauseGroup, causeGroups } from '../cause-groups.ts';
import { gist } from '../finding-gist.ts';
import { titleWords } from '../finding-lines.ts';
import { isNoted } from '../tally.ts';
import { findingDetails } from './finding-details.ts';
import { findingFragment } from './fragments.ts';
import { type LaterMarkup, laterOr } from './later-markup.ts';
import { type Markup, markup } from './markup.ts';
import type { PageView } from './page-view.ts';
import { nodesOf } from './references.ts';

/** Findings whose details stand in the page openly; of the others they are packed. */
const openMax = 100;

/**
 * All findings as one table, those of one cause together, the gravest first. Each row opens by
 * itself; sorting and filtering are the script's.
 */
export function findingsSection(view: PageView, later: LaterMarkup): Markup {
  const { findings } = view.result.judgement;
  if (findings.length === 0) {
    return markup`<section id="findings" aria-labelledby="findings-head"><h2 id="findings-head">Findings</h2><p>nothing is broken, unknown or waived</p></section>`;
  }
  const placed = causeGroups(findings).flatMap((group) =>
    [group.lead, ...group.others].map((finding) => ({ finding, group })),
  );
  const hasLives = findings.some((finding) => view.lifeOf(finding) !== undefined);
  const context = { view, hasLives };
  const rows = placed.map((each, at) => rowOf(each, at < openMax ? undefined : later, context));
  const names = ['severity', 'finding', 'state', 'node', 'rule', ...(hasLives ? ['life'] : [])];
  const heads = names.map((name) => markup`<th scope="col" role="columnheader">${name}</th>`);
  return markup`<section id="findings" aria-labelledby="findings-head">
<h2 id="findings-head">Findings</h2>
<div id="findings-filter" class="filter" role="search" aria-label="findings" hidden></div>
<p id="findings-count" role="status">${findings.length} findings</p>
<table class="findings" role="table" aria-labelledby="findings-head">
<thead role="rowgroup"><tr role="row">${heads}</tr></thead>
<tbody role="rowgroup">${rows}</tbody>
</table>
</section>`;
}

interface Context {
  readonly view: PageView;
  readonly hasLives: boolean;
}

function rowOf(
  { finding, group }: { readonly finding: Finding; readonly group: CauseGroup },
  later: LaterMarkup | undefined,
  { view, hasLives }: Context,
): Markup {
  const id = findingFragment(finding.id);
  const details = findingDetails(finding, group, view);
  const body = laterOr(later, id, details, 'hopgauge audit --verbose');
  const life = view.lifeOf(finding);
  const lifeCell = hasLives
    ? markup`<td role="cell" data-key="${life?.word ?? ''}">${life?.words}</td>`
    : undefined;
  const { severity, rule } = finding;
  const nodeNames = nodesOf(finding, view).map((name) => markup`<span>${name}</span> `);
  return markup`<tr role="row"><td role="cell" data-key="${severities.indexOf(severity)}">${severity}</td><th scope="row" role="rowheader"><details class="finding" id="${id}"><summary>${gist(titleWords(finding))}</summary>${body}</details></th>${stateCell(finding)}<td role="cell">${nodeNames}</td><td role="cell">${rule}</td>${lifeCell}</tr>
`;
}

/** In the words under which the text report has it. */
function stateCell(finding: Finding): Markup {
  const [word, tone] = isNoted(finding)
    ? ['worth knowing', 'load']
    : {
        broken: ['broken', 'strike'],
        undetermined: ['not seen', 'doubt'],
        waived: ['waived', 'waived'],
      }[finding.verdict];
  return markup`<td role="cell"><b class="mark ${tone}">${word}</b></td>`;
}
