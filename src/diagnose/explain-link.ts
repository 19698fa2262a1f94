import { rateWords } from '../ethernet/run-brake.ts';
import type { Place } from '../facts/subject.ts';
import type { Site, SiteLink } from '../site/types.ts';
import { cannotTell } from './cannot-tell.ts';
import { type Cause, rankCauses } from './cause.ts';
import { linkCautions } from './link-cautions.ts';
import { type LinkElement, linkElements } from './link-elements.ts';
import { draftsFor } from './link-rules.ts';
import { type LinkView, slowestMbps, viewLink } from './link-view.ts';

/**
 * - `fault`         at least one cause of a fault was found
 * - `no-fault`      what decides was read, and nothing is wrong
 * - `cannot-tell`   nothing wrong was seen, and not all that decides could be read
 */
export type Standing = 'fault' | 'no-fault' | 'cannot-tell';

/** Why a link or a path is as it is. */
export interface Explanation {
  readonly kind: 'link' | 'path';
  readonly id: string;
  readonly declaredAt: Place;
  readonly standing: Standing;
  /** What there is to explain, in words. */
  readonly says: string;
  readonly elements: readonly LinkElement[];
  /** In order of strength. */
  readonly causes: readonly Cause[];
  /** What the facts at hand cannot say; empty: they say all that was asked. */
  readonly cannotTell: readonly string[];
  /** The one measurement to make next; absent: nothing is wrong, or reading more comes first. */
  readonly next?: string;
  /** Before touching anything; empty where there is nothing to touch. */
  readonly cautions: readonly string[];
}

/** Why a link is as it is. */
export function explainLink(site: Site, link: SiteLink): Explanation {
  const view = viewLink(site, link);
  const causes = rankCauses(draftsFor(view));
  const missing = cannotTell(view, causes);
  const standing = standingOf(view, causes);
  const next = standing === 'no-fault' ? undefined : nextFor(view, causes, missing);
  return {
    kind: 'link',
    id: view.id,
    declaredAt: link.declared.place,
    standing,
    says: stateWords(view),
    elements: linkElements(view, causes),
    causes,
    cannotTell: missing,
    ...(next === undefined ? {} : { next }),
    cautions: standing === 'fault' ? linkCautions(view) : [],
  };
}

function standingOf(view: LinkView, causes: readonly Cause[]): Standing {
  if (causes.some(({ fault }) => fault)) return 'fault';
  // What explains away the fault that it looks like settles it.
  if (causes.length > 0) return 'no-fault';
  return isKnown(view) ? 'no-fault' : 'cannot-tell';
}

/** Both ends were read, or nobody can read them, and what was read is as it should be. */
function isKnown({ ends, ratedMbps, up }: LinkView): boolean {
  if (up !== true || ratedMbps === undefined) return false;
  const readable = ends.filter(({ declaredNode }) => declaredNode?.unread === undefined);
  return (
    readable.length > 0 &&
    readable.every(
      ({ facts, duplex }) =>
        facts.speedMbps !== undefined && facts.speedMbps >= ratedMbps && duplex !== undefined,
    )
  );
}

/** The measurement that best separates what is left: that of the strongest cause. */
function nextFor(
  view: LinkView,
  causes: readonly Cause[],
  missing: readonly string[],
): string | undefined {
  const first = causes.find(({ fault }) => fault);
  if (first !== undefined) return first.settledBy;
  if (missing.length === 0) return undefined;
  const wasRead = view.ends.every(({ facts }) => facts.speedMbps !== undefined);
  return wasRead && view.ratedMbps === undefined
    ? 'declare its speed'
    : 'let both ends be read, and declare the speed';
}

function stateWords(view: LinkView): string {
  const { up, ratedMbps, ratedBy } = view;
  const [a, b] = view.ends.map(({ facts }) => facts.speedMbps);
  const rated =
    ratedMbps === undefined
      ? ''
      : `; ${rateWords(ratedMbps)} is ${ratedBy === 'declared' ? 'declared' : 'what both ends can'}`;
  if (up === false) return 'has no link';
  if (a !== undefined && b !== undefined && a !== b) {
    return `reports ${rateWords(a)} at one end and ${rateWords(b)} at the other${rated}`;
  }
  const speed = slowestMbps(view);
  if (speed === undefined) return 'its speed is not known';
  const duplexes = [...new Set(view.ends.flatMap(({ duplex }) => duplex ?? []))];
  const words = duplexes.length === 0 ? '' : ` ${duplexes.join(' and ')} duplex`;
  return `runs at ${rateWords(speed)}${words}${rated}`;
}
