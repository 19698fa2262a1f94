import type { Finding, Judgement } from '../../../judge/types.ts';
import type { SiteLink, SitePath } from '../../../site/types.ts';
import { toldMoves } from '../../told-moves.ts';
import type { AuditResult, Moved } from '../../types.ts';
import { groupBy } from '../group-by.ts';
import type { PageView } from '../page-view.ts';
import { pastOfNodes } from '../past/page-past.ts';
import { worstFirst } from '../paths-section.ts';
import { nodesOf } from '../references.ts';

/** Paths that the page of one node draws, the worst; a switch may carry thousands. */
export const nodePathsMax = 30;

/** What of an audit is about one node. */
export interface NodePart {
  readonly result: AuditResult;
  /** The node with those that it is linked to, for its drawing. */
  readonly near: AuditResult;
  /** Paths that cross the node and are not drawn. */
  readonly pathsLeft: number;
}

/** Gives the part of an audit that is about a node; made once for a site, so that nothing is searched. */
export function partsByNode(view: PageView): (node: string) => NodePart {
  const { result } = view;
  const { site, judgement, moved, past } = result;
  const ports = groupBy(site.ports, ({ node }) => node);
  const links = byNodes(site.links, ({ ends }) => ends.map(({ node }) => node));
  const paths = byNodes(site.paths, ({ hops, from, to }) => [
    from,
    to,
    ...hops.map(({ port }) => port.node),
  ]);
  const directions = groupBy(site.directions, ({ path }) => path);
  const findings = byNodes(judgement.findings, (finding) => nodesOf(finding, view));
  const findingsOf = groupBy(judgement.findings, ({ subject }) => subject.id);
  const declared = new Map(site.intent.nodes.map((node) => [node.name, node]));
  const moves = moved === undefined ? undefined : movesByNode(moved, result);
  const pastOf = past === undefined ? undefined : pastOfNodes(past);
  return (name) => {
    const [ownLinks, ownPorts] = [links.get(name) ?? [], ports.get(name) ?? []];
    const crossing = worstFirst(paths.get(name) ?? []);
    const drawn = crossing.slice(0, nodePathsMax);
    const ways = drawn.flatMap(({ id }) => directions.get(id) ?? []);
    const onWays = [...drawn, ...ways].flatMap(({ id }) => findingsOf.get(id) ?? []);
    const own = inOrder(new Set([...(findings.get(name) ?? []), ...onWays]));
    const near = new Set([name, ...ownLinks.flatMap(({ ends }) => ends.map(({ node }) => node))]);
    const node = view.nodes.get(name);
    const subjects = [...ownPorts, ...drawn].map(({ id }) => id);
    const linkIds = ownLinks.map(({ declared: { id } }) => id);
    // One link needs no drawing: the page says it in a line.
    const linksDrawn = ownLinks.length > 1 ? ownLinks : [];
    const nearFindings = [...near].flatMap((each) => findings.get(each) ?? []);
    return {
      near: {
        ...result,
        site: {
          ...{ intent: site.intent, segments: [], paths: [], directions: [], links: linksDrawn },
          nodes: [...near].flatMap((each) => view.nodes.get(each) ?? []),
          ports: [...near].flatMap((each) => ports.get(each) ?? []),
        },
        judgement: partOf(judgement, [...new Set(nearFindings)]),
      },
      pathsLeft: crossing.length - drawn.length,
      result: {
        ...result,
        site: {
          intent: { ...site.intent, nodes: [...near].flatMap((each) => declared.get(each) ?? []) },
          nodes: node === undefined ? [] : [node],
          ports: ownPorts,
          links: ownLinks,
          segments: [],
          paths: drawn,
          directions: ways,
        },
        judgement: partOf(judgement, own),
        ...(moves === undefined ? {} : { moved: moves(name, own) }),
        ...(pastOf === undefined ? {} : { past: pastOf(name, [...subjects, ...linkIds]) }),
      },
    };
  };
}

function byNodes<T extends SiteLink | SitePath | Finding>(
  items: readonly T[],
  nodes: (item: T) => readonly string[],
): ReadonlyMap<string, readonly T[]> {
  const pairs = items.flatMap((item) =>
    [...new Set(nodes(item))].map((node) => [node, item] as const),
  );
  return new Map(
    [...groupBy(pairs, ([node]) => node)].map(([node, own]) => [node, own.map(([, item]) => item)]),
  );
}

const weights = { broken: 0, undetermined: 1, waived: 2 } as const;
const gravities = { error: 0, warning: 1, notice: 2 } as const;

/** As a judgement has them: most severe first, then broken before undetermined. */
function inOrder(findings: ReadonlySet<Finding>): Finding[] {
  return [...findings].sort(
    (a, b) =>
      gravities[a.severity] - gravities[b.severity] || weights[a.verdict] - weights[b.verdict],
  );
}

/** How many rules are met here is not known: they are counted for the whole site. */
function partOf(judgement: Judgement, findings: readonly Finding[]): Judgement {
  const { metByRule: _, ...rest } = judgement;
  const count = (verdict: Finding['verdict']) =>
    findings.filter((each) => each.verdict === verdict).length;
  return {
    ...rest,
    findings,
    faults: [],
    waiversExpired: [],
    waiversMet: [],
    tally: {
      ...judgement.tally,
      broken: count('broken'),
      undetermined: count('undetermined'),
      waived: count('waived'),
    },
  };
}

function movesByNode(
  moved: Moved,
  { site }: AuditResult,
): (node: string, findings: readonly Finding[]) => Moved {
  const changes = groupBy(toldMoves(moved.changes, site), ({ node }) => node);
  const living = new Map(moved.settlement.living.map((each) => [each.finding.id, each]));
  const cleared = groupBy(
    moved.settlement.cleared,
    ({ subject }) => subject.id.split(':')[0] ?? '',
  );
  return (node, findings) => ({
    ...moved,
    changes: changes.get(node) ?? [],
    settlement: {
      living: findings.flatMap(({ id }) => living.get(id) ?? []),
      cleared: cleared.get(node) ?? [],
      open: [],
    },
  });
}
