import type { AuditResult } from '../../types.ts';
import { nodeFile } from '../fragments.ts';
import { htmlReport } from '../html-report.ts';
import { pageView } from '../page-view.ts';
import { type LastReadOf, nodePage } from './node-page.ts';
import { partsByNode } from './part-of-node.ts';
import { siteIndex } from './site-index.ts';

/** Nodes of a site that has one page; a larger one has an index and a page for each node. */
export const onePageNodesMax = 200;

/** The first page of every site. */
export const indexFile = 'index.html';

/** One file of a site's pages, written when it is asked for. */
export interface PageFile {
  /** Within the folder of the site. */
  readonly name: string;
  readonly text: () => string;
}

/** The pages of an audit, the first page last: once it is there, all that it leads to is. */
export function sitePages(result: AuditResult, lastReadOf: LastReadOf): readonly PageFile[] {
  const { nodes } = result.site;
  if (nodes.length <= onePageNodesMax) return [{ name: indexFile, text: () => htmlReport(result) }];
  const view = pageView(result);
  const partOf = partsByNode(view);
  return [
    ...nodes.map(({ declared: { name } }) => ({
      name: nodeFile(name),
      text: () => nodePage(name, partOf(name), lastReadOf),
    })),
    { name: indexFile, text: () => siteIndex(view, lastReadOf) },
  ];
}
