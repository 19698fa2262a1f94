import type { OfferedModes } from '../ethernet/link-mode.ts';
import { listReaches, type SideLimit } from '../ethernet/side-limit.ts';
import type { SpeedCause } from '../ethernet/speed-cause.ts';
import type { Gap } from '../facts/gap.ts';
import { liveMbps, ratedMbpsOf, speedCauseAt } from './link-speed-cause.ts';
import { modesOf } from './port-modes.ts';
import { gapOf } from './provenance.ts';
import type { LinkRef, PortRef } from './site-index.ts';

/** What keeps a link from what it is meant to run at. */
export type LinkLimit =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'unknown'; readonly gap: Gap }
  | {
      readonly kind: 'run' | 'cable' | 'ends' | 'duplex' | 'setting' | 'capability' | 'bus';
      /** As `configuration of plot-1:desk`. */
      readonly words: string;
    };

/** What else is known of a link. */
export interface LimitEvidence {
  /** The declared run does for certain not carry the declared speed. */
  readonly runUnfit: boolean;
  /** Highest rate in Mb/s that the run carries for certain; 0: none is. */
  readonly runReachMbps: number;
  readonly duplexesEqual: boolean | undefined;
  /** The first end whose bus does not feed it. */
  readonly starvedEnd: string | undefined;
  /** Why the speed of an end is not known. */
  readonly unread: Gap | undefined;
}

const runLimit: LinkLimit = { kind: 'run', words: 'run' };

/** Names the one thing that limits a link, where it can be told for certain. */
export function limitOf(link: LinkRef, evidence: LimitEvidence): LinkLimit {
  const [a, b] = link.ends.map(liveMbps);
  const speeds = [a, b].filter((speed) => speed !== undefined);
  if (speeds.length === 0) {
    if (evidence.runUnfit) return runLimit;
    return unknown(evidence.unread ?? gapOf('down', 'no end has a link and a speed'));
  }
  if (a !== undefined && b !== undefined && a !== b) return { kind: 'ends', words: 'unequal ends' };
  const speedMbps = Math.min(...speeds);
  if (evidence.duplexesEqual === false && speedMbps <= 1000)
    return { kind: 'duplex', words: 'duplex mismatch' };
  return ofSpeed(link, speedMbps, evidence);
}

function ofSpeed(link: LinkRef, speedMbps: number, evidence: LimitEvidence): LinkLimit {
  const causes = ([0, 1] as const).map((side) => ({ side, cause: speedCauseAt(link, side) }));
  // A run that is not made for more explains why the ends do not reach what both offer.
  const runExplains = evidence.runUnfit && speedMbps >= evidence.runReachMbps;
  const kinds = causes.map(({ cause }) => cause?.kind);
  // An end that hears less than the other says that it offers speaks of something between them.
  if (kinds.includes('downshift') && !kinds.includes('limited-by'))
    return runExplains ? runLimit : { kind: 'cable', words: 'cable or connector' };
  const ratedMbps = ratedMbpsOf(link);
  if (ratedMbps === undefined)
    return unknown(gapOf('unasked', 'no speed is declared, and the modes of an end are not told'));
  if (speedMbps >= ratedMbps) return ofBus(evidence);
  const ofEnds = causes.flatMap(({ side, cause }) => endLimits(link, { side, cause, ratedMbps }));
  if (ofEnds[0] !== undefined) return ofEnds[0];
  if (runExplains) return runLimit;
  return unknown(gapOf('doubtful', 'no pair of lists of modes tells the cable from the ends'));
}

function ofBus({ starvedEnd }: LimitEvidence): LinkLimit {
  if (starvedEnd === undefined) return { kind: 'nothing' };
  return { kind: 'bus', words: `bus of ${starvedEnd}` };
}

interface EndView {
  readonly side: 0 | 1;
  readonly cause: SpeedCause | undefined;
  readonly ratedMbps: number;
}

/** The limits that one end's view of the link gives for certain; an end that cannot goes first. */
function endLimits(link: LinkRef, { side, cause, ratedMbps }: EndView): readonly LinkLimit[] {
  const unable = link.ends.filter((end) => reaches(modesOf(end).capable, ratedMbps) === 'no');
  if (unable[0] !== undefined)
    return [{ kind: 'capability', words: `capability of ${unable[0].id}` }];
  const at = (which: SideLimit['side']): PortRef =>
    link.ends[(which === 'local') === (side === 0) ? 0 : 1];
  if (cause?.kind === 'fixed') return cause.sides.flatMap((which) => setting(at(which)));
  if (cause?.kind !== 'limited-by') return [];
  return cause.limits.flatMap(({ side: which, by }) => {
    const end = at(which);
    // What its partner hears less of than it says that it offers is no setting of it.
    const saysMore = reaches(modesOf(end).advertised, ratedMbps) === 'yes';
    return by === 'advertisement' && !saysMore ? setting(end) : [];
  });
}

function reaches(list: OfferedModes | undefined, speedMbps: number) {
  return list === undefined ? 'unsaid' : listReaches(list, speedMbps);
}

function setting(end: PortRef): readonly LinkLimit[] {
  return [{ kind: 'setting', words: `configuration of ${end.id}` }];
}

function unknown(gap: Gap): LinkLimit {
  return { kind: 'unknown', gap };
}
