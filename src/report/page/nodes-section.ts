import type { Reading } from '../../facts/survey.ts';
import type { Finding } from '../../judge/types.ts';
import type { SiteNode } from '../../site/types.ts';
import { durationWords, timeWords } from '../summary-line.ts';
import { troubleOf } from '../unseen-lines.ts';
import { nodeFragment } from './fragments.ts';
import { groupBy } from './group-by.ts';
import { type Markup, markup } from './markup.ts';
import type { PagePort } from './page-ports.ts';
import type { PageView } from './page-view.ts';
import { portTable } from './port-table.ts';
import { findingReference, nodesOf } from './references.ts';

/** Findings that are named in a node; all stand in the table. */
const namedMax = 20;

/** Every node, shut: how it was read, its findings and its ports. */
export function nodesSection(
  view: PageView,
  portsOf: (node: SiteNode) => readonly PagePort[],
): Markup {
  const { nodes } = view.result.site;
  const findingsAt = findingsByNode(view);
  const each = nodes.map((node) =>
    nodeDetails(node, { ports: portsOf(node), findings: findingsAt(node), view }),
  );
  return markup`<section id="nodes" aria-labelledby="nodes-head">
<h2 id="nodes-head">Nodes and ports</h2>
<p>\u2013 stands where a port has no such thing; words stand where a value could not be read.</p>
<div id="ports-filter" class="filter" role="search" aria-label="ports" hidden></div>
<p id="ports-count" role="status"></p>
${each}</section>`;
}

interface Listed {
  readonly ports: readonly PagePort[];
  readonly findings: readonly Finding[];
  readonly view: PageView;
}

/** What the column of nodes among the findings names with each node, so that both count alike. */
function findingsByNode(view: PageView): (node: SiteNode) => readonly Finding[] {
  const named = view.result.judgement.findings.flatMap((finding) =>
    nodesOf(finding, view).map((name) => ({ name, finding })),
  );
  const byName = groupBy(named, ({ name }) => name);
  return ({ declared }) => (byName.get(declared.name) ?? []).map(({ finding }) => finding);
}

function nodeDetails(node: SiteNode, { ports, findings, view }: Listed): Markup {
  const { name } = node.declared;
  const shown = findings
    .slice(0, namedMax)
    .map((each) => markup`<li>${findingReference(each)}</li>`);
  const left = findings.length - namedMax;
  const list =
    findings.length === 0
      ? undefined
      : markup`<ul aria-label="findings of ${name}">${shown}${left > 0 ? markup`<li>${left} more, among the findings</li>` : undefined}</ul>`;
  const table = ports.length === 0 ? markup`<p>no port is known</p>` : portTable(name, ports, view);
  return markup`<details class="node" id="${nodeFragment(name)}"><summary><span>${name}</span> ${readMark(node)} ${countWords(ports.length, 'port')}, ${countWords(findings.length, 'finding')}</summary>
${readings(node)}${list}
<div data-facts="nodes"></div>
${table}</details>
`;
}

function countWords(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

function readMark(node: SiteNode): Markup {
  if (troubleOf(node) !== undefined) return markup`<b class="mark doubt">not read</b>`;
  const { unread } = node.declared;
  if (unread !== undefined) return markup`<b class="mark faint">on your word: ${unread}</b>`;
  return node.survey === undefined || node.survey.readings.length === 0
    ? markup`<b class="mark faint">not asked</b>`
    : markup`<b class="mark met">read</b>`;
}

/** Each attempt at reading it; where none succeeded, what would help. */
function readings(node: SiteNode): Markup {
  const lines = (node.survey?.readings ?? []).map(
    (reading) => markup`<li>${readingWords(reading)}</li>`,
  );
  const trouble = troubleOf(node);
  const then = trouble === undefined ? undefined : markup`<li>then: ${trouble.remedy}</li>`;
  const place = markup`<li>declared at <code>${node.declared.place.file}:${node.declared.place.line}</code></li>`;
  return markup`<ul>${place}${lines}${then}</ul>`;
}

function readingWords({ by, at, startedAt, tookMs, trouble }: Reading): string {
  const said = trouble === undefined ? `read in ${durationWords(tookMs)}` : trouble.seen;
  return `${by} ${at}, ${timeWords(startedAt)}: ${said}`;
}
