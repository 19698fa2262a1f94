import { reachOfRun } from '../ethernet/run-reach.ts';
import type { Gap } from '../facts/gap.ts';
import { portAddresses } from './addresses.ts';
import { stackAbove } from './layers.ts';
import { mediumOfName } from './phy-of-port.ts';
import { isPhysical } from './port-kind.ts';
import { modesOf } from './port-modes.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import { inPrefix } from './route-lookup.ts';
import type { LinkRef, PortRef, SiteIndex } from './site-index.ts';
import { taggingOn } from './tagging.ts';

/** Enters what both ends of a link must agree on beside speed and duplex. */
export function putAgreement(draft: Draft, index: SiteIndex, link: LinkRef): void {
  putSubnet(draft, index, link);
  const [a, b] = link.ends.map(({ survey }) => survey?.facts ?? {});
  if (a === undefined || b === undefined || !isPhysical(a) || !isPhysical(b)) return;
  const told = a.autoNegotiation !== undefined && b.autoNegotiation !== undefined;
  if (told && isTwistedPair(link)) {
    put(draft, 'bothFixed', a.autoNegotiation === false && b.autoNegotiation === false);
  }
  const ignored = [
    a.pauseTx === true && b.pauseRx === false,
    b.pauseTx === true && a.pauseRx === false,
  ];
  const known = [a, b].every(
    ({ pauseRx, pauseTx }) => pauseRx !== undefined && pauseTx !== undefined,
  );
  put(draft, 'pauseHeeded', ignored.includes(true) ? false : known ? true : undefined);
  put(
    draft,
    'pauseIgnoredBy',
    ignored[0] ? link.ends[1].id : ignored[1] ? link.ends[0].id : undefined,
  );
}

function isTwistedPair({ declared, ends }: LinkRef): boolean {
  const medium = reachOfRun(declared.run)?.medium;
  if (medium !== undefined) return medium === 'copper';
  const named = ends.flatMap(({ survey }) => mediumOfName(survey?.facts.phyText) ?? []);
  if (named[0] !== undefined) return named[0] === 'copper';
  const modes = ends.flatMap(
    (end) => (modesOf(end).advertised ?? modesOf(end).capable)?.modes ?? [],
  );
  return modes.length > 0 && modes.every((mode) => mode.medium === 'twisted-pair');
}

/** A cable between two hosts is a subnet of its own; behind a switch segments tell who belongs. */
function putSubnet(draft: Draft, index: SiteIndex, link: LinkRef): void {
  const { ends } = link;
  if (ends.some(({ node }) => node.forwards || node.declared.unread !== undefined)) return;
  const found = ends.map((end) => addressesAt(index, link, end));
  const gap = found.find((each): each is Gap => !Array.isArray(each));
  const [a = [], b = []] = found.map((each) => (Array.isArray(each) ? each : []));
  const share = a.some((one) => b.some((other) => sharePrefix(one, other)));
  put(draft, 'endsShareSubnet', gap === undefined ? share : undefined, gap);
  const words = [a, b].map((each, at) => `${ends[at]?.id} ${each.join(' and ') || 'no address'}`);
  put(draft, 'endAddresses', gap === undefined ? words : undefined, gap);
}

function sharePrefix(one: string, other: string): boolean {
  const [first = ''] = one.split('/');
  const [second = ''] = other.split('/');
  return inPrefix(first, other) && inPrefix(second, one);
}

function addressesAt(index: SiteIndex, link: LinkRef, end: PortRef): string[] | Gap {
  const { node, survey, name } = end;
  if (node.gap !== undefined) return node.gap;
  if (survey === undefined)
    return gapOf('unsupported', `${end.id} was not found`, `port ${end.id}`);
  const segments = link.segments.length === 0 ? [''] : link.segments;
  const layers = segments.flatMap(
    (segment) => stackAbove(node, name, taggingOn(index, link, segment)).ends,
  );
  const names = [...new Set(layers.map((layer) => layer.name))];
  const silent = names.find((each) => portAddresses(node, each) === undefined);
  if (silent !== undefined) return gapOf('unasked', `the addresses of ${silent} were not read`);
  return names.flatMap((each) => node.ports.get(each)?.facts.addresses ?? []);
}
