import type { Gap } from '../facts/gap.ts';
import type { Subject } from '../facts/subject.ts';
import type { DeclaredSegment } from '../intent/types.ts';
import type { ClearanceOf } from './clearance.ts';
import { missingPort } from './missing-port.ts';
import {
  type Draft,
  gapOf,
  newDraft,
  nothingShared,
  ownProvenance,
  put,
  sharedCause,
} from './provenance.ts';
import { raisedAt } from './raised-at.ts';
import type { SegmentMembers } from './segment-members.ts';
import type { PortRef } from './site-index.ts';
import { type SizedSystem, splitBySystem } from './split-by-system.ts';
import type { SitePort, SiteSegment } from './types.ts';

/** The packet of one addressed interface, or why it is not known. */
interface Sized {
  readonly id: string;
  readonly bytes?: number;
  readonly gap?: Gap;
}

/** A segment, and whether all that has an address in it agrees. */
export function siteSegment(
  declared: DeclaredSegment,
  members: SegmentMembers,
  sitePortOf: (ref: PortRef) => SitePort,
  clearanceOf: ClearanceOf,
): SiteSegment {
  const draft = newDraft();
  put(draft, 'name', declared.name);
  put(draft, 'vlan', declared.vlan);
  put(draft, 'declaredMtuBytes', declared.mtuBytes);
  const all = sizes(members, clearanceOf);
  putMembers(draft, members, all);
  putSizes(draft, declared.mtuBytes, all);
  const odd = members.addressed.find((ref) => ref.id === draft.facts['oddPort']);
  put(draft, 'portToRaise', odd && raisedAt(sitePortOf(odd)));
  put(draft, 'splitBySystem', splitBySystem(sizedSystems(members, all)));
  const subject: Subject = {
    kind: 'segment',
    id: declared.name,
    facts: draft.facts,
    own: ownProvenance(draft),
    shared: nothingShared,
    place: declared.place,
  };
  return { declared, addressed: members.addressed.map(sitePortOf), subject };
}

/** Nobody is a list of nobody only where all could be asked. */
function putMembers(draft: Draft, { addressed }: SegmentMembers, all: readonly Sized[]): void {
  const unread = addressed.length === 0 && all.length > 0;
  const ids = addressed.map((ref) => ref.id);
  put(draft, 'addressedPorts', unread ? undefined : ids, unread ? listGap(all) : undefined);
}

function sizes({ addressed, unknown, missing }: SegmentMembers, clearanceOf: ClearanceOf): Sized[] {
  const known = addressed.map((ref) => {
    const clearance = clearanceOf(ref, { bytes: undefined, tags: 0 });
    const { atLeastBytes, atMostBytes } = clearance;
    if (atMostBytes !== undefined && atLeastBytes === atMostBytes)
      return { id: ref.id, bytes: atMostBytes };
    const words = `what the mtu of ${ref.id} counts is not known`;
    return { id: ref.id, gap: clearance.gap ?? gapOf('doubtful', words) };
  });
  const words = 'its addresses were not read';
  const silent = unknown.map((node) => ({
    id: node.declared.name,
    gap: node.gap ?? gapOf('unasked', words),
  }));
  const absent = missing.map((ref) => ({ id: ref.id, gap: missingPort(ref) }));
  return [...known, ...silent, ...absent];
}

function sizedSystems({ addressed }: SegmentMembers, all: readonly Sized[]): SizedSystem[] {
  return all.flatMap(({ id, bytes }) => {
    if (bytes === undefined) return [];
    const system = addressed.find((ref) => ref.id === id)?.node.survey?.facts.systemKind;
    return [{ bytes, ...(system === undefined ? {} : { system }) }];
  });
}

function putSizes(draft: Draft, declared: number | undefined, all: readonly Sized[]): void {
  const known = all.flatMap(({ id, bytes }) => (bytes === undefined ? [] : [{ id, bytes }]));
  const gap = listGap(all);
  const norm = declared ?? commonest(known.map((each) => each.bytes));
  const odd = known.filter((each) => each.bytes !== norm).map((each) => each.id);
  put(draft, 'addressedMtusBytes', gap ? undefined : known.map((each) => each.bytes), gap);
  put(draft, 'addressedMtusEqual', odd.length > 0 ? false : gap ? undefined : true, gap);
  put(draft, 'oddPort', odd[0]);
  put(draft, 'oddPorts', odd);
}

function listGap(all: readonly Sized[]): Gap | undefined {
  if (all.length === 0) return gapOf('unasked', 'no interface with an address in it was found');
  const gaps = all.flatMap(({ id, gap }) => (gap === undefined ? [] : [{ id, gap }]));
  const first = gaps[0];
  if (first === undefined) return undefined;
  const words = `${gaps.map(({ id }) => id).join(', ')}: ${first.gap.words}`;
  return gapOf(first.gap.reason, words, sharedCause(gaps.map(({ gap }) => gap)));
}

/** The most frequent size; of equally frequent ones the largest, since the small one is odd. */
function commonest(sizes: readonly number[]): number | undefined {
  const counts = new Map<number, number>();
  for (const size of sizes) counts.set(size, (counts.get(size) ?? 0) + 1);
  return [...counts].sort(([a, x], [b, y]) => y - x || b - a)[0]?.[0];
}
