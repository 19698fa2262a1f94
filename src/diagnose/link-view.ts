import { parsePhy } from '../ethernet/phy.ts';
import { phyRateMbps } from '../ethernet/phy-rate.ts';
import { type RunReach, reachOfRun } from '../ethernet/run-reach.ts';
import { listReaches } from '../ethernet/side-limit.ts';
import { type SpeedCause, speedCause } from '../ethernet/speed-cause.ts';
import { highestMbps } from '../site/port-modes.ts';
import type { Site, SiteLink } from '../site/types.ts';
import { type EndView, sideOf, viewEnd } from './end-view.ts';

/** The link as one of its ends sees it. */
export interface LinkSide {
  readonly end: EndView;
  readonly far: EndView;
  /** Why it runs at this end's speed; absent: no speed is known at this end. */
  readonly cause?: SpeedCause;
}

/** A link with everything that the rules for causes look at. */
export interface LinkView {
  readonly id: string;
  readonly link: SiteLink;
  readonly ends: readonly [EndView, EndView];
  readonly sides: readonly [LinkSide, LinkSide];
  /** What it is meant to run at: declared, else the highest that both can; absent: not known. */
  readonly ratedMbps?: number;
  readonly ratedBy?: 'declared' | 'capability';
  /** Absent: no run is declared. */
  readonly run?: RunReach;
  /** False: an end says that it has no link. Absent: no end says. */
  readonly up?: boolean;
  /** The other members of its aggregate. */
  readonly siblings: readonly SiteLink[];
  readonly site: Site;
}

/** Looks at a link from both ends. */
export function viewLink(site: Site, link: SiteLink): LinkView {
  const [a, b] = [viewEnd(site, link.ends[0]), viewEnd(site, link.ends[1])];
  const rated = ratedOf(link, [a, b]);
  const wanted = rated === undefined ? undefined : { rateMbps: rated.ratedMbps };
  const run = reachOfRun(link.declared.run, wanted);
  const states = [a, b].flatMap(({ facts }) => facts.operUp ?? []);
  const side = (end: EndView, far: EndView) => sideView(end, far, rated?.ratedMbps);
  return {
    id: link.declared.id,
    link,
    ends: [a, b],
    sides: [side(a, b), side(b, a)],
    ...rated,
    ...(run === undefined ? {} : { run }),
    ...(states.length === 0 ? {} : { up: states.every((state) => state) }),
    siblings: siblingsOf(site, link),
    site,
  };
}

function ratedOf(
  { declared }: SiteLink,
  ends: readonly [EndView, EndView],
): { readonly ratedMbps: number; readonly ratedBy: 'declared' | 'capability' } | undefined {
  if (declared.speedMbps !== undefined)
    return { ratedMbps: declared.speedMbps, ratedBy: 'declared' };
  const [first, second] = ends.map(({ capable }) => highestMbps(capable));
  if (first === undefined || second === undefined) return undefined;
  return { ratedMbps: Math.min(first, second), ratedBy: 'capability' };
}

function sideView(end: EndView, far: EndView, wantedMbps: number | undefined): LinkSide {
  const { speedMbps } = end.facts;
  if (speedMbps === undefined) return { end, far };
  const wanted = wantedMbps === undefined ? {} : { wantedMbps };
  const cause = speedCause({ speedMbps, ...wanted, local: sideOf(end), partner: sideOf(far, end) });
  return { end, far, cause };
}

function siblingsOf(site: Site, { declared }: SiteLink): readonly SiteLink[] {
  const { lag, id } = declared;
  if (lag === undefined) return [];
  return site.links.filter((each) => each.declared.lag === lag && each.declared.id !== id);
}

/** The lowest speed that an end reports, in Mb/s; undefined: none does. */
export function slowestMbps({ ends }: LinkView): number | undefined {
  const speeds = ends.flatMap(({ facts }) => facts.speedMbps ?? []);
  return speeds.length === 0 ? undefined : Math.min(...speeds);
}

/** An end is known to run below what the link is meant to run at. */
export function isSlow(view: LinkView): boolean {
  const { ratedMbps } = view;
  const speed = slowestMbps(view);
  return ratedMbps !== undefined && speed !== undefined && speed < ratedMbps;
}

/** An end has no hardware of its own, so that its speed and duplex mean nothing. */
export function isVirtualLink({ ends }: LinkView): boolean {
  return ends.some((end) => end.virtual === true);
}

/** Both ends have a speed and the two differ. */
export function hasUnequalEnds({ ends }: LinkView): boolean {
  const [a, b] = ends.map(({ facts }) => facts.speedMbps);
  return a !== undefined && b !== undefined && a !== b;
}

/** The end is known to be unable to reach a speed in Mb/s. */
export function cannotReach(end: EndView, speedMbps: number): boolean {
  return end.capable !== undefined && listReaches(end.capable, speedMbps) === 'no';
}

/** What carries the bits, by the run, the modules and the modes; undefined: nothing tells. */
export function mediumOf(view: LinkView): 'copper' | 'fibre' | 'direct-attach' | undefined {
  if (view.run?.medium !== undefined) return view.run.medium;
  const named = view.ends.flatMap(({ facts }) => [facts.phyText, facts.moduleText]);
  const [told] = named.flatMap((text) => parsePhy(text ?? '')?.medium ?? []);
  if (told === 'twisted-pair') return 'copper';
  if (told === 'fibre' || told === 'direct-attach') return told;
  const modes = view.ends.flatMap(
    ({ advertised, capable }) => (advertised ?? capable)?.modes ?? [],
  );
  const pairs = modes.length > 0 && modes.every(({ medium }) => medium === 'twisted-pair');
  return pairs ? 'copper' : undefined;
}

/** Speed in Mb/s that the name of the module in an end stands for; undefined: none, or no name. */
export function moduleMbps({ facts }: EndView): number | undefined {
  return phyRateMbps(facts.moduleText ?? '');
}
