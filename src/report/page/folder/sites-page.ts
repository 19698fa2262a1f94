import { summaryLine, timeWords } from '../../summary-line.ts';
import { auditCounts } from '../../tally.ts';
import type { AuditResult } from '../../types.ts';
import { pageStyles } from '../html-report.ts';
import { type Markup, markup } from '../markup.ts';
import { pageDocument } from '../page-document.ts';

/** One site among several, as much as the page of all sites says of it. */
export interface SiteEntry {
  readonly site: string;
  readonly startedAt: string;
  readonly state: Markup;
  readonly words: string;
  /** Of its first page, relative to the page of all sites. */
  readonly href: string;
}

/** What is said of an audit among those of other sites. */
export function siteEntry(result: AuditResult, href: string): SiteEntry {
  const { site, startedAt } = result;
  return {
    site: site.intent.site,
    startedAt,
    state: stateMark(result),
    words: summaryLine(result),
    href,
  };
}

/** The page of an owner of several sites: how each stands, and when it was audited. */
export function sitesPage(sites: readonly SiteEntry[]): string {
  return pageDocument({
    title: `${sites.length} sites`,
    styles: pageStyles,
    script: '',
    body: markup`<header><h1>${sites.length} sites</h1></header>
<main><div class="scroll" role="group" tabindex="0" aria-label="sites"><table><caption>The latest audit of each site</caption><thead><tr><th scope="col">site<th scope="col">audited<th scope="col">state<th scope="col">in words<tbody>${sites.map(siteRow)}</table></div></main>`,
  });
}

function siteRow({ site, startedAt, state, words, href }: SiteEntry): Markup {
  return markup`<tr><th scope="row"><a href="${href}">${site}</a><td><time datetime="${startedAt}">${timeWords(startedAt)}</time><td>${state}<td>${words}
`;
}

/** The gravest that there is; what was not judged at all is no success. */
function stateMark(result: AuditResult): Markup {
  const { judged, broken, undetermined } = auditCounts(result);
  if (judged === 0) return markup`<b class="mark doubt">nothing judged</b>`;
  if (broken > 0) return markup`<b class="mark strike">${broken} broken</b>`;
  if (undetermined > 0) return markup`<b class="mark doubt">${undetermined} undetermined</b>`;
  return markup`<b class="mark met">all met</b>`;
}
