import { byName } from '../facts/order.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import { aggregateOf } from './aggregates.ts';
import type { NodeView } from './node-view.ts';
import { isPhysical } from './port-kind.ts';
import { type Draft, put } from './provenance.ts';
import type { LinkRef, PortRef } from './site-index.ts';

/** Whether LACP uses a member: undefined where the node does not say, or the link is down. */
export function memberDistributes(facts: PortReadFacts | undefined): boolean | undefined {
  if (facts?.lacpActor === undefined || facts.operUp === false) return undefined;
  const set = new Set(facts.lacpActor);
  const needed = ['synchronization', 'collecting', 'distributing'];
  return needed.every((bit) => set.has(bit)) && !set.has('defaulted') && !set.has('expired');
}

/** Whether LACP, or the bond itself, leaves this end of a link of an aggregate out. */
export function isLeftOut({ declared, ends }: LinkRef): boolean {
  if (declared.lag === undefined) return false;
  return ends.some((end) => memberDistributes(end.survey?.facts) === false);
}

/** Enters whether LACP uses a member. */
export function putMember(draft: Draft, ref: PortRef): void {
  put(draft, 'memberDistributes', memberDistributes(ref.survey?.facts));
}

/** An aggregate as one of its links sees it. */
export interface AggregateView {
  /** All its links; empty for a link of none. */
  readonly members: readonly LinkRef[];
  readonly isStrange: (ref: PortRef) => boolean;
}

/**
 * Enters how the members of an aggregate agree, at one of its links only: that of the odd member,
 * else the first. `isStrange` tells of a port that something else than declared is at its far end.
 */
export function putAggregate(
  draft: Draft,
  link: LinkRef,
  { members, isStrange }: AggregateView,
): void {
  if (members.length < 2) return;
  const sides = sidesOf(members);
  const missing = sides.flatMap(missingMembers);
  const odd = oddMember(members, { missing, isStrange });
  if (link !== (odd ?? members[0])) return;
  const agree = (value: (facts: PortReadFacts) => string | number | undefined) =>
    together(sides.map((ports) => allEqual(ports.map((port) => told(port, value)))));
  put(
    draft,
    'memberAggregatorsEqual',
    agree(({ aggregatorId }) => aggregatorId),
  );
  put(
    draft,
    'memberPartnersEqual',
    agree(({ lacpPartnerSystem }) => lacpPartnerSystem),
  );
  put(draft, 'memberSpeedsEqual', agree(speedOf));
  const speeds = sides.flat().flatMap((port) => told(port, speedOf) ?? []);
  if (speeds.length > 0) put(draft, 'memberSpeedsMbps', speeds.map(Number));
  if (sides.some((ports) => ports.some((port) => aggregateName(port) !== undefined)))
    put(draft, 'aggregateMembersMissing', missing.map((port) => port.id).sort(byName));
}

/** Members by the node that they are on; each end of an aggregate may be on several nodes. */
function sidesOf(members: readonly LinkRef[]): PortRef[][] {
  const byNode = new Map<NodeView, PortRef[]>();
  for (const { ends } of members) {
    for (const end of ends) {
      if (end.survey === undefined) continue;
      const ports = byNode.get(end.node);
      if (ports === undefined) byNode.set(end.node, [end]);
      else ports.push(end);
    }
  }
  return [...byNode.values()].filter((ports) => ports.length > 1);
}

/** A port without link has no partner and no speed that means anything. */
function told(
  { survey }: PortRef,
  value: (facts: PortReadFacts) => string | number | undefined,
): string | number | undefined {
  return survey === undefined || survey.facts.operUp === false ? undefined : value(survey.facts);
}

function speedOf(facts: PortReadFacts): number | undefined {
  return isPhysical(facts) ? facts.speedMbps : undefined;
}

/** Undefined where fewer than two are known. */
function allEqual(values: readonly (string | number | undefined)[]): boolean | undefined {
  const known = values.filter((value) => value !== undefined);
  return known.length < 2 ? undefined : new Set(known).size === 1;
}

function together(answers: readonly (boolean | undefined)[]): boolean | undefined {
  if (answers.includes(false)) return false;
  return answers.find((answer) => answer !== undefined);
}

function aggregateName({ node, name, survey }: PortRef): string | undefined {
  return aggregateOf(node, name)?.name ?? survey?.facts.aggregate;
}

/** Ports of one node that are not in the aggregate that most of them are in. */
function missingMembers(ports: readonly PortRef[]): PortRef[] {
  const counts = new Map<string, number>();
  for (const port of ports) {
    const name = aggregateName(port);
    if (name !== undefined) counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  const [most] = [...counts].sort(([a, x], [b, y]) => y - x || byName(a, b));
  return most === undefined ? [] : ports.filter((port) => aggregateName(port) !== most[0]);
}

interface Signs {
  readonly missing: readonly PortRef[];
  readonly isStrange: (ref: PortRef) => boolean;
}

/** The member to look at: one that leads elsewhere, is left out, is not in it, or is the slowest. */
function oddMember(members: readonly LinkRef[], signs: Signs): LinkRef | undefined {
  const find = (is: (ref: PortRef) => boolean) => members.find(({ ends }) => ends.some(is));
  return (
    find(signs.isStrange) ??
    find((ref) => memberDistributes(ref.survey?.facts) === false) ??
    find((ref) => signs.missing.includes(ref)) ??
    slowest(members) ??
    minority(members)
  );
}

function slowest(members: readonly LinkRef[]): LinkRef | undefined {
  const timed = members.flatMap((link) => {
    const speeds = link.ends.flatMap((end) => told(end, speedOf) ?? []).map(Number);
    return speeds.length === 0 ? [] : [{ link, speed: Math.min(...speeds) }];
  });
  const [least, ...more] = timed.sort((a, b) => a.speed - b.speed);
  return more.some(({ speed }) => speed !== least?.speed) ? least?.link : undefined;
}

/** The member whose partner or aggregator the fewest others share. */
function minority(members: readonly LinkRef[]): LinkRef | undefined {
  const keyOf = ({ ends }: LinkRef) =>
    JSON.stringify(
      ends.map(({ survey }) => [survey?.facts.lacpPartnerSystem, survey?.facts.aggregatorId]),
    );
  const counts = new Map<string, LinkRef[]>();
  for (const link of members) counts.set(keyOf(link), [...(counts.get(keyOf(link)) ?? []), link]);
  if (counts.size < 2) return undefined;
  return [...counts.values()].sort((a, b) => a.length - b.length)[0]?.[0];
}
