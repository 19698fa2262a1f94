import type { FindingLife, SitePast } from '../../../drift/site-past.ts';
import type { KeptAudit } from '../../../drift/timeline.ts';
import { timeWords } from '../../summary-line.ts';
import { groupBy } from '../group-by.ts';
import { type LastValueOf, type PortCourse, portCourses } from './port-courses.ts';

/** The history of a site as a page shows it. Plain data. */
export interface PagePast {
  readonly site: string;
  /** By time, the latest last; empty: there is no history. */
  readonly nights: readonly KeptAudit[];
  /** Ports of which something moved or was not read, by node and port. */
  readonly ports: readonly PortPast[];
  /** Nodes that gave no answer for a while. */
  readonly away: readonly NodeAway[];
  /** By time, the latest last; a finding that came back is there for each of its lives. */
  readonly findings: readonly FindingLife[];
  /** What is left out, a sentence each; empty: nothing is. */
  readonly leftOut: readonly string[];
}

/** What one port did over the nights. */
export interface PortPast {
  readonly node: string;
  /** The node's own name of it. */
  readonly port: string;
  /** Start of the last audit that saw something of it move. */
  readonly lastAt: string;
  readonly courses: readonly PortCourse[];
}

/** A stretch in which a node was not read. */
export interface NodeAway {
  readonly node: string;
  /** End of the audit that read it last. */
  readonly seenAt: string;
  /** Start of the audit that read it again; absent: it is still not read. */
  readonly endedAt?: string;
}

/** What the store has of the latest nights, put by port and finding. */
export function pagePast(past: SitePast, lastValueOf: LastValueOf): PagePast {
  return {
    site: past.site,
    nights: past.nights,
    ports: portCourses(past, lastValueOf),
    away: past.silences.flatMap(({ node, port, seenAt, endedAt }) =>
      port === undefined ? [{ node, seenAt, ...(endedAt === undefined ? {} : { endedAt }) }] : [],
    ),
    findings: past.lives,
    leftOut: leftOut(past),
  };
}

/** Gives the history of one node, with the findings on it and on `subjects`; made once for a site. */
export function pastOfNodes(
  past: PagePast,
): (node: string, subjects: readonly string[]) => PagePast {
  const ports = groupBy(past.ports, ({ node }) => node);
  const away = groupBy(past.away, ({ node }) => node);
  const findings = groupBy(past.findings, ({ subject }) => subject.id);
  return (node, subjects) => ({
    ...past,
    ports: ports.get(node) ?? [],
    away: away.get(node) ?? [],
    findings: [node, ...subjects].flatMap((subject) => findings.get(subject) ?? []),
  });
}

const partWords = {
  nights: 'audits',
  changes: 'changes of ports',
  growths: 'errors that ports counted',
  silences: 'stretches that were not read',
  lives: 'findings',
} as const;

function leftOut({ cut }: SitePast): string[] {
  return (Object.keys(partWords) as (keyof typeof partWords)[]).flatMap((part) => {
    const from = cut[part];
    return from === undefined
      ? []
      : [
          `${partWords[part]} before ${timeWords(from)} are left out here; hopgauge history TARGET has them`,
        ];
  });
}
