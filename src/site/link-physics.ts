import { commonModes } from '../ethernet/link-modes.ts';
import type { Gap } from '../facts/gap.ts';
import { limitOf } from './link-limit.ts';
import { putMedium, putRun } from './link-run.ts';
import { liveMbps, ratedMbpsOf } from './link-speed-cause.ts';
import { highestMbps, modesOf } from './port-modes.ts';
import { type Draft, put } from './provenance.ts';
import type { LinkRef } from './site-index.ts';
import type { SitePort } from './types.ts';

/** A link with its ends as they are judged. */
export interface LinkEnds {
  readonly ends: readonly [SitePort, SitePort];
  /** Why the speed of an end is not known; undefined: both are, or none is expected. */
  readonly unread: Gap | undefined;
}

/** Enters what follows from the run and from the modes of both ends. */
export function putLinkPhysics(draft: Draft, link: LinkRef, { ends, unread }: LinkEnds): void {
  put(draft, 'runsAsDeclared', runsAsDeclared(link));
  putRun(draft, link.declared);
  putMedium(draft, link.declared, link.ends);
  putModes(draft, link);
  const runReach = draft.facts['runReachMbps'];
  const limit = limitOf(link, {
    runUnfit: draft.facts['runFits'] === false || draft.facts['modulesAgree'] === false,
    runReachMbps: typeof runReach === 'number' ? runReach : 0,
    duplexesEqual: equalDuplexes(ends),
    starvedEnd: ends.find(({ subject }) => subject.facts['busFeedsPort'] === false)?.id,
    unread,
  });
  put(draft, 'limitKind', limit.kind);
  if (limit.kind === 'unknown') put(draft, 'limitedBy', undefined, limit.gap);
  else if (limit.kind !== 'nothing') put(draft, 'limitedBy', limit.words);
}

function runsAsDeclared({ declared, ends }: LinkRef): boolean | undefined {
  const { speedMbps } = declared;
  if (speedMbps === undefined) return undefined;
  const speeds = ends.flatMap((end) => liveMbps(end) ?? []);
  return speeds.length > 0 && speeds.every((speed) => speed >= speedMbps);
}

function putModes(draft: Draft, link: LinkRef): void {
  put(draft, 'ratedMbps', ratedMbpsOf(link));
  const [a, b] = [modesOf(link.ends[0]), modesOf(link.ends[1])];
  const [one, other] = [highestMbps(a.capable), highestMbps(b.capable)];
  if (one !== undefined && other !== undefined) {
    put(draft, 'capableMbps', Math.min(one, other));
    if (one !== other) put(draft, 'capableEnd', link.ends[one < other ? 0 : 1].id);
  }
  const pairs = [
    [a.advertised, a.partner],
    [b.advertised, b.partner],
    [a.advertised, b.advertised],
  ];
  const [pair] = pairs.filter((lists) => lists.every((list) => list !== undefined));
  const common = pair && commonModes(pair[0]?.modes ?? [], pair[1]?.modes ?? []);
  put(draft, 'commonMbps', common?.[0]?.speedMbps);
}

function equalDuplexes([a, b]: LinkEnds['ends']): boolean | undefined {
  const [one, other] = [a.subject.facts['duplex'], b.subject.facts['duplex']];
  return one === undefined || other === undefined ? undefined : one === other;
}
