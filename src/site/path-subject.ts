import { goodputMbps, usualStack } from '../ethernet/goodput.ts';
import type { Subject } from '../facts/subject.ts';
import { type Passes, passes } from './carries.ts';
import { unreadGap } from './clearance.ts';
import { missingPort } from './missing-port.ts';
import { pathEffects } from './path-effects.ts';
import { putGoodput } from './path-goodput.ts';
import type { PathPlan } from './path-plan.ts';
import type { PathProofs } from './path-proofs.ts';
import { type Hole, onceEach, type PathRange, pathRange, together } from './path-range.ts';
import { putSends } from './path-sends.ts';
import { isPhysical } from './port-kind.ts';
import { settlesWords } from './proof-words.ts';
import { type Draft, gapOf, newDraft, nothingShared, ownProvenance, put } from './provenance.ts';
import { raisedAt } from './raised-at.ts';
import type { Hop, SitePath } from './types.ts';

/**
 * One pair of ends with what all its hops together say, and what tests have shown of it. `hops`
 * are those of the plan.
 */
export function sitePath(plan: PathPlan, hops: readonly Hop[], proofs: PathProofs): SitePath {
  const draft = newDraft();
  putDeclared(draft, plan);
  const range = pathRange(
    plan,
    hops.map(({ port, clearance }) => ({ id: port.id, clearance })),
  );
  putRange(draft, hops, range);
  putCarries(draft, plan, hops, range.holes);
  addProof(draft, plan, proofs);
  putProven(draft, proofs);
  putSends(draft, hops);
  putSpeed(draft, plan, hops, range.atLeastBytes);
  putGoodput(draft, plan, hops);
  putDetour(draft, plan);
  const subject: Subject = {
    kind: 'path',
    id: plan.id,
    facts: draft.facts,
    own: ownProvenance(draft),
    shared: nothingShared,
    place: plan.declared.place,
  };
  const ends = { from: plan.from.declared.name, to: plan.to.declared.name };
  return { id: plan.id, declared: plan.declared, ...ends, hops, subject };
}

function putDeclared(draft: Draft, plan: PathPlan): void {
  put(draft, 'id', plan.id);
  put(draft, 'name', plan.declared.name);
  put(draft, 'from', plan.from.declared.name);
  put(draft, 'to', plan.to.declared.name);
  put(draft, 'declaredMtuBytes', plan.mtuBytes);
  put(draft, 'declaredGoodputMbps', plan.declared.goodputMbps);
  put(draft, 'connected', plan.connected);
}

function putRange(draft: Draft, hops: readonly Hop[], range: PathRange): void {
  const { holes, atLeastBytes, atMostBytes } = range;
  const gap = together(holes);
  put(draft, 'mtuAtLeastBytes', atLeastBytes, gap);
  put(draft, 'mtuAtMostBytes', atMostBytes, gap);
  const narrowest = hops.find((hop) => hop.narrowest)?.port;
  put(draft, 'narrowestPort', narrowest?.id, gap);
  put(draft, 'portToRaise', narrowest && raisedAt(narrowest), gap);
  const ids = (chosen: readonly Hop[]) => [...new Set(chosen.map((hop) => hop.port.id))];
  put(draft, 'hopsOnWord', ids(hops.filter((hop) => hop.clearance.onWord)));
  const unknown = holes.filter(
    ({ gap: each }) => each.cause !== `path ${draft.facts['id']} is not joined`,
  );
  put(
    draft,
    'hopsUnknown',
    unknown.map(({ id }) => id),
  );
}

function putCarries(
  draft: Draft,
  plan: PathPlan,
  hops: readonly Hop[],
  holes: readonly Hole[],
): void {
  const bytes = plan.mtuBytes;
  if (bytes === undefined) return;
  const outcomes = hops.map((hop, at) => ({
    id: hop.port.id,
    outcome: passes(refAt(plan, at), hop.clearance, bytes) as Passes,
  }));
  if (outcomes.some(({ outcome }) => outcome === false)) {
    put(draft, 'carriesDeclaredMtu', false);
    const ends = { from: plan.from.declared.name, to: plan.to.declared.name };
    const effects = pathEffects(hops, bytes, ends);
    put(draft, 'effectThere', effects.there);
    put(draft, 'effectBack', effects.back);
    put(draft, 'effects', effects.all);
    return;
  }
  const undecided = outcomes.flatMap(({ id, outcome }) =>
    typeof outcome === 'boolean' ? [] : [{ id, gap: outcome }],
  );
  const gap = together(onceEach([...holes, ...undecided]));
  put(draft, 'carriesDeclaredMtu', gap === undefined ? true : undefined, gap);
}

/** What is not known by the settings stays so; but a proof of it stands beside the reason. */
function addProof({ gaps }: Draft, { mtuBytes }: PathPlan, proofs: PathProofs): void {
  const gap = gaps['carriesDeclaredMtu'];
  const words = mtuBytes === undefined ? '' : settlesWords(proofs, mtuBytes);
  if (gap === undefined || words === '') return;
  gaps['carriesDeclaredMtu'] = { ...gap, words: `${gap.words}; ${words}` };
}

/** Both ways: the smaller, once both are proven. */
function putProven(draft: Draft, { there, back }: PathProofs): void {
  const fits = [there.fit, back.fit];
  const missing = fits.find((fit) => 'gap' in fit);
  const bytes = fits.flatMap((fit) => ('proof' in fit ? (fit.proof.provenMtuBytes ?? []) : []));
  const none = gapOf('unreadable', 'no packet came back in one direction');
  const both = bytes.length === fits.length ? Math.min(...bytes) : undefined;
  put(draft, 'provenMtuBytes', both, missing === undefined ? none : missing.gap);
}

function refAt(plan: PathPlan, at: number) {
  const hop = plan.hops[at];
  if (hop === undefined) throw new Error('a path has as many hops as its plan');
  return hop.ref;
}

function putSpeed(
  draft: Draft,
  plan: PathPlan,
  hops: readonly Hop[],
  atLeastBytes: number | undefined,
): void {
  const slowest = hops.find((hop) => hop.slowest);
  const holes = onceEach(speedHoles(plan));
  const none = gapOf('unsupported', 'no hop that was read has a speed that means anything');
  const gap = together(holes);
  put(draft, 'slowestPort', slowest?.port.id, gap ?? none);
  put(draft, 'slowestLink', slowest?.linkId);
  put(draft, 'slowestMbps', slowest?.speedMbps, gap ?? none);
  const speedMbps = gap === undefined ? slowest?.speedMbps : undefined;
  const known = speedMbps !== undefined && atLeastBytes !== undefined;
  const ceiling = known ? goodputMbps(speedMbps, atLeastBytes, usualStack) : undefined;
  put(draft, 'ceilingMbps', ceiling, gap ?? draft.gaps['mtuAtLeastBytes'] ?? none);
}

/** Ports whose speed counts and is not known; those that are down or virtual do not count. */
function speedHoles(plan: PathPlan): Hole[] {
  const missing = plan.missing.map(({ node, gap }) => ({ id: node, gap }));
  const unknown = plan.hops.flatMap(({ ref }) => {
    if (ref.node.onWord) return [];
    const facts = ref.survey?.facts;
    if (facts === undefined) {
      const gap = ref.node.gap ?? missingPort(ref);
      return [{ id: ref.id, gap }];
    }
    const counts = isPhysical(facts) && facts.operUp !== false;
    if (!counts || facts.speedMbps !== undefined) return [];
    return [{ id: ref.id, gap: unreadGap(ref, 'speedMbps') }];
  });
  return [...missing, ...unknown];
}

function putDetour(draft: Draft, { detour }: PathPlan): void {
  if (detour === undefined) return;
  put(draft, 'blockedPorts', detour.blockedPorts);
  put(draft, 'takesBestWay', detour.takesBest);
  put(draft, 'bestWayMbps', detour.bestMbps);
  put(draft, 'wayInUseMbps', detour.openMbps);
}
