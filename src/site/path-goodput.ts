import { goodputMbps, usualStack } from '../ethernet/goodput.ts';
import type { Gap } from '../facts/gap.ts';
import type { DeclaredLink } from '../intent/types.ts';
import { breakOf } from './path-breaks.ts';
import type { PathPlan } from './path-plan.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import type { Hop } from './types.ts';

/** What is wanted of a path, and what its hops say of it. */
interface Wanting {
  readonly wantedMbps: number;
  /** IP packet beyond which nothing passes. */
  readonly mostBytes: number;
  readonly ends: Readonly<Record<'from' | 'to', string>>;
  readonly hops: readonly Hop[];
  readonly linkOf: (hop: Hop) => DeclaredLink | undefined;
}

/**
 * Enters whether the goodput that the owner wants of a path is in reach, after speed and packet
 * size are entered. What only one of several ways lacks is not known to be lacking.
 */
export function putGoodput(draft: Draft, plan: PathPlan, hops: readonly Hop[]): void {
  const { mtuAtMostBytes, slowestMbps, ceilingMbps } = draft.facts;
  const known = typeof mtuAtMostBytes === 'number' && typeof slowestMbps === 'number';
  if (known) put(draft, 'goodputAtMostMbps', Math.floor(ceiling(slowestMbps, mtuAtMostBytes)));
  const wantedMbps = plan.declared.goodputMbps;
  if (wantedMbps === undefined || !plan.connected) return;
  if (!known || typeof ceilingMbps !== 'number') {
    put(draft, 'goodputInReach', undefined, draft.gaps['ceilingMbps']);
    return;
  }
  const ends = { from: plan.from.declared.name, to: plan.to.declared.name };
  const links = new Map(
    plan.hops.flatMap(({ ref }) => ref.ends.map(({ link }) => [link.declared.id, link.declared])),
  );
  const linkOf = ({ linkId = '' }: Hop) => links.get(linkId);
  const wanting = { wantedMbps, mostBytes: mtuAtMostBytes, ends, hops, linkOf };
  const down = downGap(wanting);
  if (down !== undefined) put(draft, 'goodputInReach', undefined, down);
  else if (ceilingMbps >= wantedMbps) put(draft, 'goodputInReach', true);
  else putLack(draft, plan, wanting);
}

function ceiling(rateMbps: number, packetBytes: number): number {
  return goodputMbps(rateMbps, packetBytes, usualStack);
}

/** A way that is cut carries nothing, whatever the rest of it would. */
function downGap({ ends, hops }: Wanting): Gap | undefined {
  const isDown = ({ port }: Hop) => port.survey?.facts.operUp === false;
  const cut = breakOf({ ...ends, hops }, isDown);
  if (cut === undefined || cut.spare) return undefined;
  const linkId = hops.find(isDown)?.linkId;
  const cause = linkId === undefined ? undefined : `link ${linkId}`;
  return gapOf('down', `${cut.ports.join(', ')}: no link`, cause);
}

function putLack(draft: Draft, plan: PathPlan, wanting: Wanting): void {
  if (wantsSeveralFlows(wanting)) return;
  const gap = packetGap(draft, wanting) ?? wayGap(wanting);
  put(draft, 'goodputInReach', gap === undefined ? false : undefined, gap);
  if (gap === undefined) put(draft, 'goodputLacks', lackOf(draft, plan, wanting));
}

function lackOf(draft: Draft, plan: PathPlan, { wantedMbps }: Wanting): 'packet' | 'way' | 'speed' {
  const { slowestMbps, mtuAtMostBytes } = draft.facts;
  const suffices = (rateMbps: unknown, bytes: unknown) =>
    ceiling(Number(rateMbps ?? 0), Number(bytes ?? 0)) >= wantedMbps;
  if (draft.facts['carriesDeclaredMtu'] === false && suffices(slowestMbps, plan.mtuBytes))
    return 'packet';
  const { takesBest, bestMbps } = plan.detour ?? {};
  return takesBest === false && suffices(bestMbps, mtuAtMostBytes) ? 'way' : 'speed';
}

/** The packet is known as a range, where nobody says what the MTU of a switch counts. */
function packetGap({ facts, gaps }: Draft, wanting: Wanting): Gap | undefined {
  const { mtuAtLeastBytes, mtuAtMostBytes, slowestMbps } = facts;
  if (ceiling(Number(slowestMbps), wanting.mostBytes) < wanting.wantedMbps) return undefined;
  const words = `packets of ${mtuAtLeastBytes} bytes do not suffice and those of ${mtuAtMostBytes} would; which of them pass is not known`;
  return gapOf('doubtful', words, gaps['carriesDeclaredMtu']?.cause);
}

/** Another way or none: which one the traffic takes is then not known. */
function wayGap(wanting: Wanting): Gap | undefined {
  const { hops, ends } = wanting;
  const short = new Set(hops.filter((hop) => isShort(hop, wanting)).map(({ linkId }) => linkId));
  const lagOf = (hop: Hop) => wanting.linkOf(hop)?.lag;
  const lags = new Set(hops.filter(({ linkId }) => short.has(linkId)).map(lagOf));
  lags.delete(undefined);
  // A flow goes to whichever member its addresses choose (IEEE 802.1AX), to the slow one as well.
  const isBad = (hop: Hop) => short.has(hop.linkId) || lags.has(lagOf(hop));
  if (breakOf({ ...ends, hops }, isBad)?.spare !== true) return undefined;
  const slow = hops.find(({ slowest }) => slowest);
  const words = `which of several ways the traffic takes is not known, and the one by ${slow?.port.id} runs at ${slow?.speedMbps} Mb/s`;
  return gapOf('doubtful', words, slow?.linkId === undefined ? undefined : `link ${slow.linkId}`);
}

function isShort({ speedMbps }: Hop, { wantedMbps, mostBytes }: Wanting): boolean {
  return speedMbps !== undefined && ceiling(speedMbps, mostBytes) < wantedMbps;
}

/**
 * The owner wants more than one member of an aggregate gives as declared, and no more than all give
 * together: that is meant for several flows, and a ceiling of one does not judge it.
 */
function wantsSeveralFlows(wanting: Wanting): boolean {
  const { hops, wantedMbps, mostBytes, linkOf } = wanting;
  const short = hops.filter((hop) => isShort(hop, wanting));
  return (
    short.length > 0 &&
    short.every((hop) => {
      const { lag, speedMbps = hop.speedMbps ?? 0 } = linkOf(hop) ?? {};
      if (lag === undefined || ceiling(speedMbps, mostBytes) >= wantedMbps) return false;
      return ceiling(togetherMbps(lag, wanting), mostBytes) >= wantedMbps;
    })
  );
}

/** Speed of all members of an aggregate, each as its slower end runs. */
function togetherMbps(lag: string, { hops, linkOf }: Wanting): number {
  const members = new Map<string, number>();
  for (const hop of hops) {
    const { id, lag: own } = linkOf(hop) ?? {};
    if (id === undefined || own !== lag || hop.speedMbps === undefined) continue;
    members.set(id, Math.min(hop.speedMbps, members.get(id) ?? Infinity));
  }
  return [...members.values()].reduce((sum, each) => sum + each, 0);
}
