import { placeWords } from '../fact-words.ts';
import { strayWaivers } from '../stray-waivers.ts';
import { summaryLine, timeWords } from '../summary-line.ts';
import { auditCounts } from '../tally.ts';
import { troubleOf } from '../unseen-lines.ts';
import { nodeFragment } from './fragments.ts';
import { joined, type Markup, markup } from './markup.ts';
import type { PageView } from './page-view.ts';

/** Nodes that are named as not read; the rest is counted, and each stands among the nodes. */
const unreadNamedMax = 12;

/** Of which site, when, by which version, and what came of it, in the words of the text report. */
export function pageHeader(view: PageView): Markup {
  const { result } = view;
  const { site, toolVersion, startedAt, strict, survey } = result;
  const files = site.intent.files.join(', ');
  const read = survey === undefined ? 'nothing was read' : `read ${timeWords(survey.endedAt)}`;
  const strictly = strict ? '; strict: no hop counts as met on your word' : '';
  return markup`<header>
<h1>${site.intent.site}</h1>
<p class="when">audited <time datetime="${startedAt}">${timeWords(startedAt)}</time>; ${read}; intent ${files}; hopgauge ${toolVersion}${strictly}</p>
<p class="sum">${summaryLine(result)}</p>
${countList(view)}
${unreadLine(view)}
${fileFaults(view)}
</header>`;
}

function countList({ result }: PageView): Markup {
  const counts = auditCounts(result);
  const rows: readonly (readonly [string, number, string])[] = [
    ['broken', counts.broken, 'strike'],
    ['undetermined', counts.undetermined, 'doubt'],
    ['worth knowing', counts.noted, 'load'],
    ['waived', counts.waived, 'waived'],
    ['met', counts.met, 'met'],
    ['hops on your word', counts.onWord, 'faint'],
  ];
  const shown = rows.map(
    ([name, count, tone]) =>
      markup`<div class="count ${count === 0 ? 'none' : tone}"><dt>${name}</dt><dd>${count}</dd></div>`,
  );
  return markup`<dl class="counts">${shown}</dl>`;
}

/** What the audit did not see is said as early as what it saw. */
function unreadLine({ result }: PageView): Markup | undefined {
  const names = result.site.nodes.flatMap((node) =>
    troubleOf(node) === undefined ? [] : [node.declared.name],
  );
  if (names.length === 0) return undefined;
  const shown = names.slice(0, unreadNamedMax);
  const left = names.length - shown.length;
  const links = shown.map((name) => markup`<a href="#${nodeFragment(name)}">${name}</a>`);
  const more = left === 0 ? undefined : markup` and ${left} more, <a href="#nodes">all nodes</a>`;
  return markup`<p class="unread"><b class="mark doubt">not read</b> ${joined(links, ', ')}${more}</p>`;
}

/** What is wrong in the operator's own files. */
function fileFaults({ result: { judgement } }: PageView): Markup | undefined {
  const lines = [
    ...judgement.faults.map(
      ({ place, rule, subject, what }) =>
        `${placeWords(place)}: rule ${rule} failed on ${subject}: ${what}`,
    ),
    ...strayWaivers(judgement).map(
      (place) => `${placeWords(place)}: this waiver matches no rule and subject; remove it`,
    ),
  ];
  if (lines.length === 0) return undefined;
  const items = lines.map((line) => markup`<li>${line}</li>`);
  return markup`<section aria-labelledby="files-head"><h2 id="files-head">In your files</h2><ul>${items}</ul></section>`;
}
