import { gapOf } from '../../../facts/subject.ts';
import type { Site, SiteLink, SiteNode } from '../../../site/types.ts';
import type { AuditResult } from '../../types.ts';
import { type LinkReading, readLink } from './link-state.ts';
import type { Sheet } from './site-sheets.ts';
import { type AllTold, type Told, tellAll } from './standing.ts';

/** A node of a drawing, or a count of hosts behind one. */
export interface SheetNode {
  /** Unique in its drawing. */
  readonly id: string;
  readonly name: string;
  readonly kind: 'host' | 'switch' | 'router' | 'count';
  readonly reading: 'read' | 'not read' | 'on your word';
  readonly told: Told;
  /** The node whose details are meant. */
  readonly details: string;
}

/** A link of a drawing. */
export interface SheetLink {
  readonly id: string;
  /** Identifiers of nodes of the drawing. */
  readonly ends: readonly [string, string];
  readonly reading: LinkReading;
  readonly told: Told;
  /** Segments that it is declared to carry; none where it is not declared. */
  readonly segments: readonly string[];
  readonly lag?: string;
  /** Absent: it is not declared, or stands for several. */
  readonly link?: SiteLink;
}

/** Everything of a site, however much. */
export function wholeSheet({ site, judgement, least }: AuditResult): Sheet {
  const told = tellAll(site, judgement.findings, least);
  const known = new Set(site.nodes.map(({ declared }) => declared.name));
  // Of a part of a site, a link may lead out of it.
  const links = site.links
    .filter(({ declared: { ends } }) => ends.every(({ node }) => known.has(node)))
    .map((link) => declaredLink(link, told));
  return {
    title: site.intent.site,
    nodes: site.nodes.map((node) => sheetNode(node, told)),
    links: [...links, ...undeclaredLinks(site)],
  };
}

function sheetNode({ declared, subject }: SiteNode, told: AllTold): SheetNode {
  const { name, routes, role, unread } = declared;
  const isRead = subject.facts['read'] === true || gapOf(subject, 'read') === undefined;
  return {
    id: name,
    name,
    kind: routes ? 'router' : role,
    reading: unread !== undefined ? 'on your word' : isRead ? 'read' : 'not read',
    told: told.ofNode(name),
    details: name,
  };
}

function declaredLink(link: SiteLink, told: AllTold): SheetLink {
  const { id, ends, untagged, tagged, lag } = link.declared;
  return {
    id,
    ends: [ends[0].node, ends[1].node],
    reading: readLink(link),
    told: told.ofLink(id),
    segments: [...(untagged === undefined ? [] : [untagged]), ...tagged],
    ...(lag === undefined ? {} : { lag }),
    link,
  };
}

/** Links that a node hears of and the intent does not name: `quay-sw:xg5 - loft-sw:xg3`. */
function undeclaredLinks({ nodes }: Site): SheetLink[] {
  const known = new Set(nodes.map(({ declared }) => declared.name));
  return nodes.flatMap(({ subject }) => {
    const heard = subject.facts['undeclaredLinks'];
    const ids = typeof heard === 'object' ? heard.map(String) : [];
    return ids.flatMap((id): SheetLink[] => {
      const [a = '', b = ''] = id.split(' - ').map((end) => end.split(':')[0] ?? '');
      if (!known.has(a) || !known.has(b)) return [];
      const reading = { state: 'not-declared', marks: ['not declared'] } as const;
      return [{ id, ends: [a, b], reading, told: { standing: 'met', count: 0 }, segments: [] }];
    });
  });
}
