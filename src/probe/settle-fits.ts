import type { FitOutcome, FitVerdict, SizeFit } from './fit-types.ts';
import { leavesWholeBytes } from './own-way.ts';

/** A fit in one direction, as it was made or why it was not. */
export interface FitWay {
  readonly from: string;
  readonly to: string;
  /** Absent: none is known, and nothing was sent. */
  readonly toAddress?: string;
  /** ISO 8601 UTC: when it began. */
  readonly at: string;
  readonly outcome: FitOutcome;
}

/** A size that does not pass in a direction, and who says so. */
export interface FitLoss {
  readonly bytes: number;
  /** `silence`: nobody. `learnt`: what the sender keeps of an earlier word of a router. */
  readonly by: 'interface' | 'route' | 'router' | 'learnt' | 'silence';
  /** What passes instead, where that was said. */
  readonly mtuBytes?: number;
  /** Port of the sender. */
  readonly device?: string;
  /** Address of the router. */
  readonly router?: string;
  /** True: it was lost there or on the way back; a ping does not tell which. */
  readonly eitherWay: boolean;
}

/** What both fits together say of one direction. */
export interface FitDirection extends FitWay {
  /** Packet that is to pass. */
  readonly wantedBytes: number;
  /** Largest packet that passed in this direction in one piece; absent: none is known to. */
  readonly provenBytes?: number;
  /** It is known from replies of the sender to the other end, not from its own packets. */
  readonly provenByReply: boolean;
  /** Absent: nothing is known to be lost. */
  readonly loss?: FitLoss;
  readonly stands: 'met' | 'broken' | 'undetermined';
}

/**
 * Joins the fits of both directions. What a passing ping proves: its request went there in one
 * piece, since it forbids to be cut. Its reply, as large, came back; but a host may cut that: Linux
 * sends its replies without "don't fragment" (seen in the lab: a host whose route back has an MTU
 * of 1500 answers 9000 bytes in pieces). So a reply proves the way back only where the host
 * that sent it said that it sends such a packet whole, and by no router, which could cut it.
 *
 * A lost ping does not say in which direction it was lost. Of silence from both ends it stays open;
 * where the other end's own packet of that size came through, it was lost on the way there.
 */
export function settleFits(
  [there, back]: readonly [FitWay, FitWay],
  wantedBytes: number,
): readonly [FitDirection, FitDirection] {
  return [settled(there, back, wantedBytes), settled(back, there, wantedBytes)];
}

function settled(way: FitWay, other: FitWay, wantedBytes: number): FitDirection {
  const sent = way.outcome.ok ? way.outcome.fit.provenBytes : undefined;
  const replied = repliedBytes(way, other);
  const proven = larger(sent, replied);
  const loss = lossOf(way, other, proven);
  return {
    ...way,
    wantedBytes,
    provenByReply: proven !== undefined && proven !== sent,
    ...(proven === undefined ? {} : { provenBytes: proven }),
    ...(loss === undefined ? {} : { loss }),
    stands: standing(proven, loss, wantedBytes),
  };
}

function standing(
  proven: number | undefined,
  loss: FitLoss | undefined,
  wantedBytes: number,
): FitDirection['stands'] {
  if (proven !== undefined && proven >= wantedBytes) return 'met';
  return loss === undefined ? 'undetermined' : 'broken';
}

/** The largest reply that the sender of this direction is known to have sent whole. */
function repliedBytes({ outcome }: FitWay, other: FitWay): number | undefined {
  if (!outcome.ok || !other.outcome.ok || outcome.fit.own.onLink !== true) return undefined;
  const whole = leavesWholeBytes(outcome.fit.own);
  if (whole === undefined) return undefined;
  const passed = other.outcome.fit.sizes.filter(
    ({ sizeBytes, verdict }) => verdict.kind === 'passes' && sizeBytes <= whole,
  );
  return passed.at(-1)?.sizeBytes;
}

function larger(a: number | undefined, b: number | undefined): number | undefined {
  if (a === undefined || b === undefined) return a ?? b;
  return Math.max(a, b);
}

function lossOf(way: FitWay, other: FitWay, proven = 0): FitLoss | undefined {
  if (!way.outcome.ok) return undefined;
  const lost = way.outcome.fit.sizes.find(
    ({ sizeBytes, verdict }) => sizeBytes > proven && isLoss(verdict),
  );
  if (lost === undefined) return undefined;
  const came = other.outcome.ok ? (other.outcome.fit.provenBytes ?? 0) : 0;
  return lossFrom(lost, came >= lost.sizeBytes);
}

function isLoss({ kind }: FitVerdict): boolean {
  return kind !== 'passes' && kind !== 'cannot-tell';
}

function lossFrom({ sizeBytes: bytes, verdict }: SizeFit, otherCame: boolean): FitLoss | undefined {
  switch (verdict.kind) {
    case 'own-interface-small':
      return { bytes, by: 'interface', eitherWay: false, ...said(verdict) };
    case 'route-small':
      return { bytes, by: 'route', eitherWay: false, mtuBytes: verdict.mtuBytes };
    case 'router-said': {
      const router = verdict.address === undefined ? {} : { router: verdict.address };
      const by = verdict.address === undefined ? 'learnt' : 'router';
      return { bytes, by, eitherWay: false, ...router, ...said(verdict) };
    }
    case 'silent':
      return { bytes, by: 'silence', eitherWay: !otherCame };
    case 'passes':
    case 'cannot-tell':
      return undefined;
  }
}

function said({ mtuBytes, device }: { mtuBytes?: number; device?: string }): {
  mtuBytes?: number;
  device?: string;
} {
  return {
    ...(mtuBytes === undefined ? {} : { mtuBytes }),
    ...(device === undefined ? {} : { device }),
  };
}

/** Both directions together: broken if one is, met if both are. */
export function standTogether(
  directions: readonly Pick<FitDirection, 'stands'>[],
): FitDirection['stands'] {
  if (directions.some(({ stands }) => stands === 'broken')) return 'broken';
  const met = directions.length > 0 && directions.every(({ stands }) => stands === 'met');
  return met ? 'met' : 'undetermined';
}
