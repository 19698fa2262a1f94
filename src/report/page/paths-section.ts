import type { Finding } from '../../judge/types.ts';
import type { SitePath } from '../../site/types.ts';
import { effectLines, isDeclaredBetween, pathHeading } from '../path-words.ts';
import { provenLines } from '../proof-words.ts';
import { isNoted } from '../tally.ts';
import { pathFragment } from './fragments.ts';
import { type LaterMarkup, laterOr } from './later-markup.ts';
import { type Markup, markup } from './markup.ts';
import type { PageView } from './page-view.ts';
import { clearanceDrawing } from './profile/clearance-drawing.ts';
import { clearanceTable } from './profile/clearance-table.ts';
import { findingReference } from './references.ts';

/** Paths that are drawn openly, the worst; of the others each is drawn once it is opened. */
const drawnMax = 24;
/** Paths up to which the table of each stands in the page as it is. */
const tablesMax = 6;
/** Findings that are named under a path; all stand among the findings. */
const namedMax = 4;

/** How a path stands, worst first. */
const stands = [
  'does not pass',
  'not settled',
  'both ends pass',
  'passes on your word',
  'passes',
] as const;
type PathStand = (typeof stands)[number];
const tones = {
  'does not pass': 'strike',
  'not settled': 'doubt',
  'both ends pass': 'faint',
  'passes on your word': 'faint',
  passes: 'met',
} as const;

/**
 * The paths as clearance profiles, the worst first, each with the findings that explain it. `later`
 * is absent on a page without script: all of it then stands there as it is.
 */
export function pathsSection(view: PageView, later: LaterMarkup | undefined): Markup {
  const { paths } = view.result.site;
  const ordered = worstFirst(paths);
  const tables = paths.length > tablesMax ? later : undefined;
  const open = ordered.slice(0, drawnMax).map((path) => openPath(path, view, tables));
  const shut = ordered.slice(drawnMax).map((path) => shutPath(path, view, later));
  const none = markup`<p>no path is declared: nothing was judged from end to end; add one under <code>paths:</code></p>`;
  const rest =
    shut.length === 0
      ? undefined
      : markup`<h3>${shut.length} more paths, none worse than those above</h3>${shut}`;
  return markup`<section id="paths" aria-labelledby="paths-head">
<h2 id="paths-head">Paths</h2>
${paths.length === 0 ? none : open}${rest}
</section>`;
}

/** What a path that is worse shows: it does not pass, or is not settled; among these the narrower. */
export function worstFirst(paths: readonly SitePath[]): readonly SitePath[] {
  return paths.toSorted((a, b) => rank(a) - rank(b) || shareOf(a) - shareOf(b));
}

function rank(path: SitePath): number {
  return stands.indexOf(standOfPath(path));
}

/** That it passes is said of what was read; not of what is not declared, or on the owner's word alone. */
function standOfPath(path: SitePath): PathStand {
  const { facts } = path.subject;
  if (facts['connected'] === false || facts['carriesDeclaredMtu'] === false) return 'does not pass';
  if (facts['carriesDeclaredMtu'] !== true) return 'not settled';
  if (!isDeclaredBetween(path)) return 'both ends pass';
  return path.hops.every(({ clearance }) => clearance.onWord) ? 'passes on your word' : 'passes';
}

/** How much of its declared packet passes; 1 where that is not known. */
function shareOf({ subject: { facts } }: SitePath): number {
  const { mtuAtMostBytes: most, declaredMtuBytes: declared } = facts;
  return typeof most === 'number' && typeof declared === 'number' ? most / declared : 1;
}

function openPath(path: SitePath, view: PageView, tables: LaterMarkup | undefined): Markup {
  const id = pathFragment(path.id);
  return markup`<section class="way" id="${id}" aria-labelledby="${id}-head">
<h3 id="${id}-head">${pathHeading(path)}</h3>
${pathBody(path, view, tables)}
</section>
`;
}

function shutPath(path: SitePath, view: PageView, later: LaterMarkup | undefined): Markup {
  const id = pathFragment(path.id);
  const body = laterOr(later, id, pathBody(path, view, undefined), 'hopgauge audit --verbose');
  return markup`<details class="way" id="${id}"><summary>${markOf(path)} ${pathHeading(path)}</summary>${body}</details>
`;
}

function pathBody(path: SitePath, view: PageView, later: LaterMarkup | undefined): Markup {
  const linkOf = (link: string) => view.links.get(link);
  const id = pathFragment(path.id);
  const proven = provenLines(path, view.result.site.directions).map(
    (line) => markup`<p>${line}</p>`,
  );
  return markup`<p>${markOf(path)}</p>
${clearanceDrawing(path, `${id}-drawing`, linkOf, effectList(path, view))}
${proven}${reasons(path, view)}
${hopTable(path, view, later)}`;
}

/** What breaks on it, and what to do first: the links below it name only what was found. */
function effectList(path: SitePath, view: PageView): Markup | undefined {
  const effects = effectLines(path, []);
  const first = findingsOf(path, view).find((each) => each.verdict === 'broken' && !isNoted(each));
  const rows = [
    ...effects.map((line) => ['breaks', line] as const),
    ...(first?.advice === undefined ? [] : [['do', adviceWords(first, first.advice)] as const]),
  ];
  if (rows.length === 0) return undefined;
  return markup`<dl class="said">${rows.map(([name, said]) => markup`<dt>${name}</dt><dd>${said}</dd>`)}</dl>
`;
}

/** Advice on a port or a link does not say where. */
function adviceWords({ subject: { kind, id } }: Finding, advice: string): string {
  return kind === 'port' || kind === 'link' ? `${id}: ${advice}` : advice;
}

/** The same in words, packed where it stands many times. */
function hopTable(path: SitePath, view: PageView, later: LaterMarkup | undefined): Markup {
  const id = `${pathFragment(path.id)}-hops`;
  const table = clearanceTable(path, (link) => view.links.get(link));
  const content = laterOr(later, id, table, 'hopgauge audit --verbose');
  return markup`<details id="${id}"><summary>hop by hop, as a table</summary>${content}</details>`;
}

function markOf(path: SitePath): Markup {
  const stand = standOfPath(path);
  return markup`<b class="mark ${tones[stand]}">${stand}</b>`;
}

/** Links to the findings behind what is drawn. */
function reasons(path: SitePath, view: PageView): Markup | undefined {
  const all = findingsOf(path, view);
  if (all.length === 0) return undefined;
  const shown = all.slice(0, namedMax).map((each) => markup`<li>${findingReference(each)}</li>`);
  const left = all.length - namedMax;
  const more = left > 0 ? markup`<li>${left} more on its hops, among the findings</li>` : undefined;
  return markup`<ul class="reasons" aria-label="findings on ${path.id}">${shown}${more}</ul>`;
}

/** What is said of the path itself, of its narrowest hop, and then of the others; once each. */
function findingsOf(path: SitePath, view: PageView): readonly Finding[] {
  const { findingsOn, result } = view;
  const directions = result.site.directions.filter((each) => each.path === path.id);
  const hops = [
    ...path.hops.filter(({ narrowest }) => narrowest),
    ...path.hops.filter(({ narrowest }) => !narrowest),
  ];
  const found = [
    ...findingsOn('path', path.id),
    ...directions.flatMap(({ id }) => findingsOn('direction', id)),
    ...hops.flatMap(({ port }) => findingsOn('port', port.id)),
    ...hops.flatMap(({ linkId }) => (linkId === undefined ? [] : findingsOn('link', linkId))),
  ];
  return [...new Set(found)];
}
