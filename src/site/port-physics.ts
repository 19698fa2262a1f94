import { busFeeds } from '../ethernet/host-bus.ts';
import { busFromText } from '../ethernet/host-bus-text.ts';
import { pausedShare } from '../ethernet/paused-share.ts';
import { reachOfRun } from '../ethernet/run-reach.ts';
import type { SpeedCause } from '../ethernet/speed-cause.ts';
import type { Gap } from '../facts/gap.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import { portPhysicsFacts } from '../facts/port-physics-facts.ts';
import { countedSince } from './counted-since.ts';
import { speedCauseAt } from './link-speed-cause.ts';
import { missingPort } from './missing-port.ts';
import type { NodeView } from './node-view.ts';
import { phyOfPort } from './phy-of-port.ts';
import { highestMbps, modesOf, type PortModes } from './port-modes.ts';
import { putErrors, putLight } from './port-signal.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import type { PortRef } from './site-index.ts';

/** Enters what follows from modes, bus, counters and light of a port; `virtual` ports have none. */
export function putPhysics(draft: Draft, ref: PortRef): void {
  const { node, survey } = ref;
  if (survey === undefined) {
    if (!node.onWord) putNothing(draft, node.gap ?? missingPort(ref));
    return;
  }
  if (draft.facts['virtual'] === true) return;
  const modes = modesOf(ref);
  put(draft, 'capableMbps', highestMbps(modes.capable));
  put(draft, 'advertisedMbps', highestMbps(modes.advertised));
  put(draft, 'partnerMbps', highestMbps(modes.partner));
  const end = ref.ends[0];
  const cause = end && speedCauseAt(end.link, end.side);
  put(draft, 'speedCause', cause && causeWord(cause));
  putBus(draft, ref, modes);
  const medium = reachOfRun(end?.link.declared.run ?? [])?.medium;
  const phy = phyOfPort(survey.facts, modes, medium);
  putErrors(draft, ref, phy);
  putLight(draft, survey.facts, { phy, medium });
  put(draft, 'linkChangesPerDay', changesPerDay(ref));
  put(draft, 'halfDuplexSuspect', halfDuplexSuspect(ref));
  put(draft, 'pausedShare', pausedShareOf(ref));
}

function putNothing(draft: Draft, gap: Gap): void {
  for (const name of Object.keys(portPhysicsFacts)) put(draft, name, undefined, gap);
}

function causeWord(cause: SpeedCause): string {
  if (cause.kind !== 'limited-by') return cause.kind;
  const sides = new Set(cause.limits.map(({ side }) => side));
  if (sides.size > 1) return 'limited-by-both';
  return sides.has('local') ? 'limited-here' : 'limited-by-partner';
}

function putBus(draft: Draft, ref: PortRef, modes: PortModes): void {
  const { busText, busMbps } = ref.survey?.facts ?? {};
  const wantedMbps = ref.ends[0]?.link.declared.speedMbps ?? highestMbps(modes.capable);
  if (wantedMbps === undefined) return;
  const bus = busText === undefined ? undefined : busFromText(busText);
  if (bus === undefined) {
    // Coding is taken off, the overhead of packets is not: only too little is certain.
    if (busMbps !== undefined && busMbps < wantedMbps) put(draft, 'busFeedsPort', false);
    return;
  }
  const { feeds, words } = busFeeds(bus, wantedMbps);
  if (feeds === 'tight')
    put(draft, 'busFeedsPort', undefined, gapOf('doubtful', words, `bus of ${ref.id}`));
  else put(draft, 'busFeedsPort', feeds);
}

const secondsPerDay = 86_400;

/** A shorter time than a quarter of a day is no measure of a day. */
const windowSecondsMin = secondsPerDay / 4;

function changesPerDay(ref: PortRef): number | undefined {
  const now = ref.survey?.facts ?? {};
  const changes = linkChanges(now);
  const nodes = ref.ends.flatMap(({ link }) => link.ends.map((end) => end.node));
  if (changes === undefined || nodes.some(comesAndGoes)) return undefined;
  const since = countedSince(ref);
  // Two nights that do not have the same counter have nothing between them.
  const alike = (since?.facts.carrierChanges === undefined) === (now.carrierChanges === undefined);
  const before = since === undefined || !alike ? undefined : linkChanges(since.facts);
  if (since !== undefined && before !== undefined && before <= changes) {
    if (since.seconds >= windowSecondsMin) return perDay(changes - before, since.seconds);
  }
  const uptime = ref.node.survey?.facts.uptimeSeconds;
  // Links come and go while a system starts, so that a short life says little.
  return uptime === undefined || uptime < secondsPerDay ? undefined : perDay(changes, uptime);
}

function linkChanges({ carrierChanges, linkDownEvents }: PortReadFacts): number | undefined {
  return carrierChanges ?? (linkDownEvents === undefined ? undefined : 2 * linkDownEvents);
}

function perDay(changes: number, seconds: number): number {
  return Math.round((changes * secondsPerDay * 100) / seconds) / 100;
}

function pausedShareOf(ref: PortRef): number | undefined {
  const { rxPauseFrames, speedMbps } = ref.survey?.facts ?? {};
  if (rxPauseFrames === undefined || speedMbps === undefined) return undefined;
  const since = countedSince(ref);
  const before = since?.facts.rxPauseFrames;
  const goesOn = since !== undefined && before !== undefined && before <= rxPauseFrames;
  const seconds = goesOn ? since.seconds : (ref.node.survey?.facts.uptimeSeconds ?? 0);
  if (seconds <= 0) return undefined;
  const frames = goesOn ? rxPauseFrames - before : rxPauseFrames;
  return Math.round(pausedShare(frames, speedMbps, seconds) * 1e4) / 1e4;
}

function comesAndGoes({ declared }: NodeView): boolean {
  return declared.sleeps || declared.mayBeAbsent;
}

function halfDuplexSuspect(ref: PortRef): boolean | undefined {
  const facts = ref.survey?.facts ?? {};
  if (facts.operUp !== true) return undefined;
  const fast = (facts.speedMbps ?? 0) > 1000;
  if (facts.duplex === 'full' || fast) return false;
  if (facts.duplex !== 'half') return undefined;
  const alone = facts.autoNegotiation === true && facts.partnerAutoNegotiation === false;
  if (alone || (facts.lateCollisions ?? 0) > 0) return true;
  const agreed = facts.autoNegotiation === true && facts.partnerAutoNegotiation === true;
  return agreed ? false : undefined;
}
