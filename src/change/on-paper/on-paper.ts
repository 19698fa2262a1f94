import type { Intent } from '../../intent/types.ts';
import { buildSite } from '../../site/build-site.ts';
import type { ChangeRemark } from '../types.ts';
import { busRemarks } from './bus-remarks.ts';
import { carriageByNode } from './carriage.ts';
import { frameRemarks } from './frame-remarks.ts';
import { gatewayRemarks } from './gateway-remarks.ts';
import { lagRemarks } from './lag-remarks.ts';
import { linkRemarks } from './link-remarks.ts';
import { nodeRemarks } from './node-remarks.ts';
import { pairRemarks } from './pair-remarks.ts';
import { pathRemarks } from './path-remarks.ts';
import { segmentRemarks } from './segment-remarks.ts';
import { unreadNeeds } from './unread-needs.ts';

/**
 * Judges an intent by itself, with nothing read: what is declared of links, aggregates, buses, unread
 * nodes, segments and paths is held against each other and against what the standards allow, and
 * what nothing is declared of is asked for. In the order of the intent within each part.
 */
export function onPaper(intent: Intent): readonly ChangeRemark[] {
  const site = buildSite(intent, undefined, { strict: false });
  const carried = carriageByNode(intent);
  const needs = unreadNeeds(intent);
  const links = new Map(intent.links.map((link) => [link.id, link]));
  const linkOf = (id: string) => links.get(id);
  return [
    ...intent.links.flatMap(linkRemarks),
    ...busRemarks(intent),
    ...lagRemarks(intent),
    ...frameRemarks(needs, site.paths),
    ...site.paths.flatMap((path) => pairRemarks(path, needs, linkOf)),
    ...pathRemarks(intent, carried),
    ...segmentRemarks(intent),
    ...gatewayRemarks(intent, carried),
    ...nodeRemarks(intent),
  ];
}
