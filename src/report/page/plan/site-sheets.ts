import { byName } from '../../../facts/order.ts';
import type { AuditResult } from '../../types.ts';
import { foldHosts } from './fold-hosts.ts';
import { type SheetLink, type SheetNode, wholeSheet } from './whole-sheet.ts';

/** Most nodes that one drawing has. */
export const drawnNodesMax = 200;

/** What one drawing shows. */
export interface Sheet {
  readonly title: string;
  readonly nodes: readonly SheetNode[];
  readonly links: readonly SheetLink[];
}

/**
 * The drawings of a site: one, or one for each segment where it has too many nodes for one. A
 * segment that has too many by itself is drawn by what forwards, with counts of the hosts behind.
 */
export function sheetsOf(result: AuditResult): readonly Sheet[] {
  const all = wholeSheet(result);
  if (all.nodes.length <= drawnNodesMax) return [all];
  const segments = result.site.intent.segments.map(({ name }) => name).sort(byName);
  const named = segments.map((name) =>
    part(all, `segment ${name}`, ({ segments: carried }) => carried.includes(name)),
  );
  const others = part(all, 'links in no segment', ({ segments: carried }) => carried.length === 0);
  const linked = [...named, others].filter(({ links }) => links.length > 0);
  const ends = new Set(all.links.flatMap((link) => link.ends));
  const lone = all.nodes.filter(({ id }) => !ends.has(id));
  return [...linked.map(fewEnough), ...inLots(lone)];
}

function part(all: Sheet, title: string, isIn: (link: SheetLink) => boolean): Sheet {
  const links = all.links.filter(isIn);
  const ends = new Set(links.flatMap((link) => link.ends));
  return { title, links, nodes: all.nodes.filter(({ id }) => ends.has(id)) };
}

function fewEnough(sheet: Sheet): Sheet {
  return sheet.nodes.length <= drawnNodesMax ? sheet : foldHosts(sheet);
}

function inLots(lone: readonly SheetNode[]): Sheet[] {
  const lots: Sheet[] = [];
  for (let at = 0; at < lone.length; at += drawnNodesMax) {
    const nodes = lone.slice(at, at + drawnNodesMax);
    const which = lone.length > drawnNodesMax ? `, ${at + 1} to ${at + nodes.length}` : '';
    lots.push({ title: `nodes in no link${which}`, nodes, links: [] });
  }
  return lots;
}
