import { byName } from '../facts/order.ts';
import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { type ClearanceOf, clearances } from './clearance.ts';
import { siteDirections } from './direction-subject.ts';
import type { AggregateView } from './link-aggregate.ts';
import { siteLink } from './link-subject.ts';
import { siteNode } from './node-subject.ts';
import { hopsOf } from './path-hops.ts';
import type { PathPlan } from './path-plan.ts';
import { type PathProofs, pathProofs } from './path-proofs.ts';
import { sitePath } from './path-subject.ts';
import { planPaths } from './plan-path.ts';
import { type Company, companyOf } from './port-neighbour.ts';
import { type PortContext, sitePort } from './port-subject.ts';
import { addDemand, findMembers, type SegmentMembers } from './segment-members.ts';
import { siteSegment } from './segment-subject.ts';
import {
  type BuildOptions,
  indexSite,
  type LinkRef,
  type PortRef,
  type SiteIndex,
} from './site-index.ts';
import type { Site, SiteDirection, SiteLink, SitePath, SitePort, SiteSegment } from './types.ts';
import { unreadEvidence } from './unread-evidence.ts';

/**
 * Joins what is declared with what was read. Pure: equal input gives an equal site, everything in
 * the order of names. Without a survey every reading is absent with the reason `unasked`.
 */
export function buildSite(intent: Intent, survey: Survey | undefined, options: BuildOptions): Site {
  const index = indexSite(intent, survey, options);
  const members = findMembers(index);
  const company = companyOf(index);
  const plans = planPaths(index, company.hearing).sort((a, b) => byName(a.id, b.id));
  for (const plan of plans) enterDemands(plan);
  const clearanceOf = clearances((ref) => unreadEvidence(index, company, ref));
  const ports = buildPorts(index, { clearanceOf, company });
  const portOf = (ref: PortRef) => ports.get(ref) as SitePort;
  const aggregates = aggregateViews(index, company);
  const proofs = new Map(plans.map((plan) => [plan, pathProofs(plan, survey)]));
  const proofsOf = (plan: PathPlan) => proofs.get(plan) as PathProofs;
  const paths = plans.map((plan) =>
    sitePath(plan, hopsOf(plan, portOf, clearanceOf), proofsOf(plan)),
  );
  const links = index.links
    .map((link) =>
      siteLink(index, link, {
        ends: [portOf(link.ends[0]), portOf(link.ends[1])],
        aggregate: aggregates(link),
      }),
    )
    .sort((a, b) => byName(a.subject.id, b.subject.id));
  return {
    intent,
    nodes: [...index.nodes.values()]
      .map((node) => siteNode(index, node, company))
      .sort((a, b) => byName(a.subject.id, b.subject.id)),
    ports: [...ports.values()],
    links,
    segments: buildSegments(members, index, portOf, clearanceOf),
    paths,
    directions: buildDirections(plans, { paths, links, proofsOf }),
  };
}

/** What a path wants through its hops; on layers above as well as on ports. */
function enterDemands(plan: PathPlan): void {
  for (const { ref, position, layer, tags } of plan.hops) {
    if (plan.mtuBytes !== undefined) addDemand(ref, plan.mtuBytes, tags ?? 0);
    const end = position === 'from' || position === 'to' || layer;
    if (end && (ref.survey?.facts.addresses ?? []).length > 0) ref.addressed = true;
  }
}

/** The members of the aggregate of each link; a link of none is the only one. */
function aggregateViews(index: SiteIndex, { moved }: Company): (link: LinkRef) => AggregateView {
  const members = new Map<string, LinkRef[]>();
  for (const link of index.links) {
    const { lag } = link.declared;
    if (lag !== undefined) members.set(lag, [...(members.get(lag) ?? []), link]);
  }
  const isStrange = (ref: PortRef) => moved.has(ref.id);
  return (link) => ({ members: members.get(link.declared.lag ?? '') ?? [], isStrange });
}

function buildPorts(index: SiteIndex, known: PortContext): Map<PortRef, SitePort> {
  const refs = [...index.ports.values()].sort((a, b) => byName(a.id, b.id));
  return new Map(refs.map((ref) => [ref, sitePort(index, ref, known)]));
}

function buildSegments(
  members: ReadonlyMap<string, SegmentMembers>,
  index: SiteIndex,
  portOf: (ref: PortRef) => SitePort,
  clearanceOf: ClearanceOf,
): SiteSegment[] {
  return [...members]
    .flatMap(([name, found]) => {
      const declared = index.segments.get(name);
      return declared === undefined ? [] : [siteSegment(declared, found, portOf, clearanceOf)];
    })
    .sort((a, b) => byName(a.subject.id, b.subject.id));
}

interface DirectionGround {
  /** One for each plan. */
  readonly paths: readonly SitePath[];
  readonly links: readonly SiteLink[];
  readonly proofsOf: (plan: PathPlan) => PathProofs;
}

function buildDirections(
  plans: readonly PathPlan[],
  { paths, links, proofsOf }: DirectionGround,
): SiteDirection[] {
  const strangers = links.filter(({ subject }) => subject.facts['endsShareSubnet'] === false);
  const ids = new Set(strangers.map(({ declared }) => declared.id));
  const around = (plan: PathPlan) => ({ strangers: ids, proofs: proofsOf(plan) });
  return plans.flatMap((plan, at) => {
    const path = paths[at];
    return path === undefined ? [] : siteDirections(plan, path, around(plan));
  });
}
