import type { SideModes } from '../ethernet/side-limit.ts';
import { type SpeedCause, speedCause } from '../ethernet/speed-cause.ts';
import { isVirtual } from './port-kind.ts';
import { highestMbps, modesOf } from './port-modes.ts';
import type { LinkRef, PortRef } from './site-index.ts';

/** What a link is meant to run at in Mb/s: declared, else the highest that both ends can. */
export function ratedMbpsOf({ declared, ends }: LinkRef): number | undefined {
  if (declared.speedMbps !== undefined) return declared.speedMbps;
  const [a, b] = ends.map((end) => highestMbps(modesOf(end).capable));
  return a === undefined || b === undefined ? undefined : Math.min(a, b);
}

/** Speed in Mb/s of a port with hardware whose link is up; undefined: it has none to be believed. */
export function liveMbps({ survey }: PortRef): number | undefined {
  const facts = survey?.facts ?? {};
  return facts.operUp === true && isVirtual(facts) === false ? facts.speedMbps : undefined;
}

/** Why a link runs at the speed of the end at `side`; undefined: that end has no speed to judge. */
export function speedCauseAt(link: LinkRef, side: 0 | 1): SpeedCause | undefined {
  const [end, far] = [link.ends[side], link.ends[side === 0 ? 1 : 0]];
  const speedMbps = liveMbps(end);
  if (speedMbps === undefined) return undefined;
  const wantedMbps = ratedMbpsOf(link);
  return speedCause({
    speedMbps,
    ...(wantedMbps === undefined ? {} : { wantedMbps }),
    local: sideOf(end),
    partner: sideOf(far, end),
  });
}

/** What an end says of itself; `heardBy` is the other end, whose word on what it heard goes first. */
function sideOf(end: PortRef, heardBy?: PortRef): SideModes {
  const own = modesOf(end);
  const heard = heardBy === undefined ? undefined : modesOf(heardBy).partner;
  const advertised = heard ?? own.advertised;
  const auto = end.survey?.facts.autoNegotiation ?? heardBy?.survey?.facts.partnerAutoNegotiation;
  return {
    ...(advertised === undefined ? {} : { advertised }),
    ...(own.capable === undefined ? {} : { capable: own.capable }),
    ...(auto === undefined ? {} : { autoNegotiation: auto }),
  };
}
