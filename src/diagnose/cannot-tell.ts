import { rateWords } from '../ethernet/run-brake.ts';
import { gapOf, sourceOf } from '../facts/subject.ts';
import { highestMbps } from '../site/port-modes.ts';
import type { Cause } from './cause.ts';
import type { EndView } from './end-view.ts';
import { isSlow, isVirtualLink, type LinkSide, type LinkView } from './link-view.ts';
import { phyOfEnd } from './phy-of-end.ts';

/** What the facts at hand cannot say of a link, and why. */
export function cannotTell(view: LinkView, causes: readonly Cause[]): readonly string[] {
  if (isVirtualLink(view)) return [];
  const speeds = view.up === false ? [] : view.ends.flatMap(unknownSpeed);
  const lists =
    isSlow(view) && !isSettled(causes)
      ? view.sides.flatMap((side) => partnerLists(view, side))
      : [];
  return [...new Set([...view.ends.flatMap(unreadEnd), ...speeds, ...lists, ...ratedWords(view)])];
}

/** Speed is explained with certainty: then no list is missed. */
function isSettled(causes: readonly Cause[]): boolean {
  return causes.some(({ certainty, fault }) => certainty === 'is' && fault);
}

function unreadEnd({ id, declaredNode, port, node }: EndView): readonly string[] {
  if (port.survey !== undefined) return [];
  if (declaredNode?.unread !== undefined)
    return [`nothing of ${id}: it is a ${declaredNode.unread} that nobody reads`];
  const words = node === undefined ? undefined : gapOf(port.subject, 'speedMbps')?.words;
  return [`nothing of ${id}: ${words ?? 'it was not read'}`];
}

function unknownSpeed({ id, facts, port }: EndView): readonly string[] {
  if (port.survey === undefined || facts.speedMbps !== undefined) return [];
  const words = gapOf(port.subject, 'speedMbps')?.words;
  return [`the speed of ${id}${words === undefined ? '' : `: ${words}`}`];
}

function ratedWords({ ratedMbps, up }: LinkView): readonly string[] {
  if (ratedMbps !== undefined || up === false) return [];
  return ['what the link is meant to run at: declare its speed'];
}

/** Cable or configuration: why the lists of this side do not tell the two apart. */
function partnerLists(view: LinkView, { end, far }: LinkSide): readonly string[] {
  if (end.port.survey === undefined) return [];
  const same = `whether the cable or ${far.id} limits it`;
  const told = end.partner ?? far.advertised;
  if (told === undefined) return [`${same}: ${whyNoList(view, end)}`];
  const source = sourceOf(end.port.subject, 'partnerModes') ?? '';
  const { ratedMbps = 0 } = view;
  if ((highestMbps(told) ?? 0) >= ratedMbps || told.silentMbps.length === 0) return [];
  if (/LLDP/i.test(source)) return [`${same}: LLDP has two octets for modes and none above 1 Gb/s`];
  if (!told.silentMbps.includes(ratedMbps)) return [];
  return [`${same}: the capability bits have none for ${rateWords(ratedMbps)}`];
}

function whyNoList(view: LinkView, end: EndView): string {
  const kind = end.node?.survey?.facts.systemKind;
  const phy = phyOfEnd(view, end) ?? '';
  if (/^10GBASE-(R|[SLE]R|CR)$/.test(phy)) return `${phy} negotiates nothing, so there is no list`;
  if (kind === 'macos') return 'macOS does not tell what the partner offers';
  if (kind === 'freebsd') return 'FreeBSD does not tell what the partner offers';
  const words = gapOf(end.port.subject, 'partnerModes')?.words;
  return words ?? `${end.id} does not tell what its partner offers`;
}
