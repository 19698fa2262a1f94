import type { Finding } from '../../../judge/types.ts';
import type { SiteNode } from '../../../site/types.ts';
import { type CauseGroup, causeGroups } from '../../cause-groups.ts';
import { titleWords } from '../../finding-lines.ts';
import { timeWords } from '../../summary-line.ts';
import { troubleOf } from '../../unseen-lines.ts';
import { findingFragment, nodeFile } from '../fragments.ts';
import { groupBy } from '../group-by.ts';
import { pageStyles } from '../html-report.ts';
import { type Markup, markup } from '../markup.ts';
import { pageDocument } from '../page-document.ts';
import { pageHeader } from '../page-header.ts';
import { type PageView, pageView } from '../page-view.ts';
import { pastSection } from '../past/past-section.ts';
import { pathsSection, worstFirst } from '../paths-section.ts';
import { toNodePages } from '../plan/leads.ts';
import { siteSection } from '../plan/site-section.ts';
import { nodesOf } from '../references.ts';
import { countWords, type LastReadOf } from './node-page.ts';

/** Paths that the index draws, the worst; each node's page has its own. */
export const indexPathsMax = 24;
/** Causes that the index names, the gravest; each node's page has all of its own. */
export const indexCausesMax = 60;

/** The first page of a site that is too large for one: the worst paths, the causes, every node. */
export function siteIndex(view: PageView, lastReadOf: LastReadOf): string {
  const { result } = view;
  const { past } = result;
  return pageDocument({
    title: `${result.site.intent.site}: audit`,
    styles: pageStyles,
    script: '',
    body: markup`<a class="skip" href="#paths">to the paths</a>
${pageHeader(view)}
<nav aria-label="parts of this page"><ul><li><a href="#paths">paths</a></li><li><a href="#site">the site</a></li><li><a href="#causes">findings</a></li><li><a href="#nodes">nodes</a></li>${past === undefined ? undefined : markup`<li><a href="#past">history</a></li>`}</ul></nav>
<main>
${worstPaths(view)}
${siteSection(result, { leads: toNodePages })}
${causesSection(view)}
${nodesTable(view, lastReadOf)}
${past === undefined ? undefined : pastSection(past)}
</main>`,
  });
}

/** Drawn without their findings: these stand on the pages of the nodes. */
function worstPaths({ result }: PageView): Markup {
  const { paths } = result.site;
  const worst = worstFirst(paths).slice(0, indexPathsMax);
  const left = paths.length - worst.length;
  const findings: readonly Finding[] = [];
  const shown = pageView({
    ...result,
    site: { ...result.site, paths: worst },
    judgement: { ...result.judgement, findings },
  });
  return markup`${pathsSection(shown, undefined)}${left === 0 ? undefined : markup`<p>${left} more paths, none worse than those above; the page of a node draws those that cross it</p>`}`;
}

function causesSection(view: PageView): Markup {
  const groups = causeGroups(view.result.judgement.findings);
  const shown = groups.slice(0, indexCausesMax).map((group) => causeItem(group, view));
  const left = groups.length - shown.length;
  const list =
    groups.length === 0
      ? markup`<p>nothing is broken, unknown or waived</p>`
      : markup`<ol>${shown}</ol>${left > 0 ? markup`<p>${left} more causes, none graver; the page of each node has its own</p>` : undefined}`;
  return markup`<section id="causes" aria-labelledby="causes-head"><h2 id="causes-head">Findings by cause</h2>${list}</section>`;
}

const tones = { broken: 'strike', undetermined: 'doubt', waived: 'waived' } as const;

function causeItem({ lead, others }: CauseGroup, view: PageView): Markup {
  const [node] = nodesOf(lead, view);
  const title = titleWords(lead);
  const place =
    node === undefined
      ? markup`${title}`
      : markup`<a href="${nodeFile(node)}#${findingFragment(lead.id)}">${title}</a>`;
  const more = others.length === 0 ? '' : `; ${others.length} more of the same cause`;
  return markup`<li><b class="mark ${tones[lead.verdict]}">${lead.verdict}</b> ${lead.severity}: ${place}${more}</li>
`;
}

function nodesTable(view: PageView, lastReadOf: LastReadOf): Markup {
  const pairs = view.result.judgement.findings.flatMap((finding) =>
    nodesOf(finding, view).map((node) => ({ node, finding })),
  );
  const findings = groupBy(pairs, ({ node }) => node);
  const ports = groupBy(view.result.site.ports, ({ node }) => node);
  const rows = view.result.site.nodes.map((node) => {
    const { name } = node.declared;
    const own = (findings.get(name) ?? []).map(({ finding }) => finding);
    const many = node.survey?.ports.length ?? ports.get(name)?.length ?? 0;
    return markup`<tr><th scope="row"><a href="${nodeFile(name)}">${name}</a><td>${readCell(node, lastReadOf(name))}<td>${many}<td>${own.length === 0 ? '' : countWords(own)}
`;
  });
  return markup`<section id="nodes" aria-labelledby="nodes-head"><h2 id="nodes-head">Nodes</h2>
<table><caption>${rows.length} nodes, each with a page of its own</caption><thead><tr><th scope="col">node<th scope="col">last read<th scope="col">ports<th scope="col">findings<tbody>${rows}</table></section>`;
}

function readCell(node: SiteNode, at: string | undefined): Markup {
  if (node.declared.unread !== undefined) return markup`on your word: ${node.declared.unread}`;
  const last = at === undefined ? 'never' : timeWords(at);
  return troubleOf(node) === undefined
    ? markup`${last}`
    : markup`<b class="mark doubt">not read</b> ${last}`;
}
