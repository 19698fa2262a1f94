import { type Finding, type Severity, severities } from '../../../judge/types.ts';
import type { Site } from '../../../site/types.ts';

/**
 * What the findings on a thing come to, gravest first: `notice` is less than what the audit was
 * asked to count, `met` has none.
 */
export const standings = ['broken', 'undetermined', 'waived', 'notice', 'met'] as const;
/** What the findings on a thing come to. */
export type Standing = (typeof standings)[number];

/** Findings that tell of one node or link, and what they come to. */
export interface Told {
  readonly standing: Standing;
  readonly count: number;
}

/** What is told of nodes and of links, with what is told of their ports. */
export interface AllTold {
  readonly ofNode: (name: string) => Told;
  /** Also for a link that is not declared: nothing. */
  readonly ofLink: (id: string) => Told;
}

const nothing: Told = { standing: 'met', count: 0 };

/** Gathers findings by node and by link; those of paths and segments belong to neither. */
export function tellAll(site: Site, findings: readonly Finding[], least: Severity): AllTold {
  const nodes = new Map<string, Told>();
  const links = new Map<string, Told>();
  const portNode = new Map(site.ports.map(({ id, node }) => [id, node]));
  const portLinks = new Map<string, string[]>();
  for (const { ends, declared } of site.links) {
    for (const { id } of ends) portLinks.set(id, [...(portLinks.get(id) ?? []), declared.id]);
  }
  for (const finding of findings) {
    const { kind, id } = finding.subject;
    const standing = standingOf(finding, least);
    if (kind === 'node') add(nodes, id, standing);
    if (kind === 'port') add(nodes, portNode.get(id), standing);
    if (kind === 'port') for (const link of portLinks.get(id) ?? []) add(links, link, standing);
    if (kind === 'link') add(links, id, standing);
  }
  return {
    ofNode: (name) => nodes.get(name) ?? nothing,
    ofLink: (id) => links.get(id) ?? nothing,
  };
}

function standingOf({ verdict, severity }: Finding, least: Severity): Standing {
  if (verdict === 'waived') return 'waived';
  return severities.indexOf(severity) > severities.indexOf(least) ? 'notice' : verdict;
}

function add(told: Map<string, Told>, id: string | undefined, standing: Standing): void {
  if (id === undefined) return;
  const { standing: before, count } = told.get(id) ?? nothing;
  const graver = standings.indexOf(standing) < standings.indexOf(before);
  told.set(id, { standing: graver ? standing : before, count: count + 1 });
}

/** What a standing is called, in a legend and to who does not see its mark. */
export const standingWords = {
  broken: 'broken',
  undetermined: 'not determined',
  waived: 'waived',
  notice: 'worth knowing',
  met: 'nothing found',
} as const satisfies Record<Standing, string>;
