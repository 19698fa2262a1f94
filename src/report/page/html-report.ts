import type { SiteNode } from '../../site/types.ts';
import type { AuditResult } from '../types.ts';
import { findingsSection } from './findings-section.ts';
import type { LaterMarkup } from './later-markup.ts';
import { linksSection } from './links-section.ts';
import { type Markup, markup } from './markup.ts';
import { movedSection } from './moved-section.ts';
import { nodesSection } from './nodes-section.ts';
import { packedData } from './packed-data.ts';
import { packFacts } from './packed-facts.ts';
import { pageDocument } from './page-document.ts';
import { pageHeader } from './page-header.ts';
import { pagePorts } from './page-ports.ts';
import { pageScript } from './page-script.ts';
import { pageStyle } from './page-style.ts';
import { type PageView, pageView } from './page-view.ts';
import { paletteStyle } from './palette.ts';
import { pastSection } from './past/past-section.ts';
import { pastStyle } from './past/past-style.ts';
import { pathsSection } from './paths-section.ts';
import { type Leads, onThisPage } from './plan/leads.ts';
import { siteStyle } from './plan/site-drawing-style.ts';
import { siteSection } from './plan/site-section.ts';
import { clearanceStyle } from './profile/clearance-style.ts';

/** Every style sheet of the pages, the palette first. */
export const pageStyles: readonly string[] = [
  paletteStyle,
  pageStyle,
  clearanceStyle,
  siteStyle,
  pastStyle,
];

/** The audit as one page in one file, which asks nobody for anything. */
export function htmlReport(result: AuditResult): string {
  const view = pageView(result);
  const { past } = result;
  return htmlPage(view, {
    title: `${result.site.intent.site}: audit`,
    header: pageHeader(view),
    past: past === undefined ? undefined : pastSection(past),
    drawn: result,
    leads: onThisPage,
  });
}

/** What differs between the page of a site and that of a part of it. */
export interface PageHead {
  readonly title: string;
  readonly header: Markup;
  /** Its history; absent: none is kept. */
  readonly past: Markup | undefined;
  /** What is drawn of the site, and where that leads to. */
  readonly drawn: AuditResult;
  readonly leads: Leads;
}

/** A page of all that a view has. */
export function htmlPage(view: PageView, head: PageHead): string {
  return pageDocument({
    title: head.title,
    styles: pageStyles,
    script: pageScript,
    body: pageBody(view, head),
  });
}

interface Section {
  /** Fragment of the section, and its word among the links at the top. */
  readonly id: string;
  readonly word: string;
  readonly content: Markup | undefined;
}

function pageBody(view: PageView, { header, past, drawn, leads }: PageHead): Markup {
  const { site } = view.result;
  const later: LaterMarkup = new Map();
  const portsOfNode = pagePorts(view);
  const ports = new Map(site.nodes.map((node) => [node, portsOfNode(node)]));
  const portsOf = (node: SiteNode) => ports.get(node) ?? [];
  const sections = (
    [
      { id: 'paths', word: 'paths', content: pathsSection(view, later) },
      { id: 'site', word: 'the site', content: siteSection(drawn, { leads, later }) },
      { id: 'findings', word: 'findings', content: findingsSection(view, later) },
      { id: 'moved', word: 'what moved', content: movedSection(view.result) },
      { id: 'nodes', word: 'nodes and ports', content: nodesSection(view, portsOf) },
      { id: 'links', word: 'links', content: linksSection(view, later) },
      { id: 'past', word: 'history', content: past },
    ] satisfies readonly Section[]
  ).filter(({ content }) => content !== undefined);
  const facts = {
    ports: packFacts(
      'port',
      [...ports.values()].flat().map(({ subject }) => subject),
    ),
    nodes: packFacts(
      'node',
      site.nodes.map(({ subject }) => subject),
    ),
    links: packFacts(
      'link',
      site.links.map(({ subject }) => subject),
    ),
  };
  const links = sections.map(({ id, word }) => markup`<li><a href="#${id}">${word}</a></li>`);
  return markup`<a class="skip" href="#paths">to the paths</a>
${header}
<nav aria-label="parts of this page"><ul>${links}</ul></nav>
<main>
${sections.map(({ content }) => content)}
</main>
${packedData({ facts, later })}`;
}
