import type { Finding } from '../../../judge/types.ts';
import { timeWords } from '../../summary-line.ts';
import { troubleOf } from '../../unseen-lines.ts';
import { htmlPage } from '../html-report.ts';
import { type Markup, markup } from '../markup.ts';
import { type PageView, pageView } from '../page-view.ts';
import { pastSection } from '../past/past-section.ts';
import { fromNodePage } from '../plan/leads.ts';
import type { NodePart } from './part-of-node.ts';

/** When a node was read last, ISO 8601 UTC; undefined: never. */
export type LastReadOf = (node: string) => string | undefined;

/** The page of one node of a large site: its paths, findings, ports, links and history. */
export function nodePage(name: string, part: NodePart, lastReadOf: LastReadOf): string {
  const view = pageView(part.result);
  const { site, past } = part.result;
  return htmlPage(view, {
    title: `${name}: ${site.intent.site}`,
    header: nodeHeader(name, part, { view, lastReadOf }),
    past: past === undefined ? undefined : pastSection(past, true),
    drawn: part.near,
    leads: fromNodePage(name),
  });
}

function nodeHeader(
  name: string,
  { result, pathsLeft }: NodePart,
  { view, lastReadOf }: { readonly view: PageView; readonly lastReadOf: LastReadOf },
): Markup {
  const { site, startedAt, judgement } = result;
  const more =
    pathsLeft === 0
      ? undefined
      : markup`<p>${pathsLeft} more paths cross it, none worse than those below; hopgauge audit --verbose draws all</p>`;
  return markup`<header>
<p class="when"><a href="index.html">${site.intent.site}</a></p>
<h1>${name}</h1>
<p class="when">audited <time datetime="${startedAt}">${timeWords(startedAt)}</time>; ${readWords(name, view, lastReadOf)}; hopgauge ${result.toolVersion}</p>
<p class="sum">${countWords(judgement.findings)}</p>${more}
</header>`;
}

function readWords(name: string, view: PageView, lastReadOf: LastReadOf): Markup {
  const node = view.nodes.get(name);
  const at = lastReadOf(name);
  const last = at === undefined ? 'never read' : `last read ${timeWords(at)}`;
  if (node === undefined || troubleOf(node) !== undefined)
    return markup`<b class="mark doubt">not read</b>, ${last}`;
  return node.declared.unread === undefined ? markup`${last}` : markup`known from the intent alone`;
}

/** `2 broken, 1 undetermined` of what is about a node; what is met is counted for the site alone. */
export function countWords(findings: readonly Finding[]): string {
  const verdicts = ['broken', 'undetermined', 'waived'] as const;
  const counts = verdicts.flatMap((verdict) => {
    const count = findings.filter((each) => each.verdict === verdict).length;
    return count === 0 ? [] : [`${count} ${verdict}`];
  });
  return counts.length === 0 ? 'nothing broken, unknown or waived' : counts.join(', ');
}
