import { placeText, quoted } from './fault.ts';
import { nightlyPairsMax, pathPairsMax } from './limits.ts';
import { type Build, checkName } from './names.ts';
import type { PathText } from './path-schema.ts';
import { listOf } from './schema-parts.ts';
import type { Entry, Section } from './sections.ts';
import { parseRate } from './speed.ts';
import { entryPlace, spotAt } from './spot.ts';
import type { DeclaredLink, DeclaredNode, DeclaredPath, DeclaredSegment } from './types.ts';

/** What paths refer to. */
export interface PathGround {
  readonly nodes: readonly DeclaredNode[];
  readonly segments: readonly DeclaredSegment[];
  readonly links: readonly DeclaredLink[];
  /** False when a link is missing for a fault: then a segment without hosts is none. */
  readonly linksComplete: boolean;
}

interface Ground {
  readonly hosts: ReadonlyMap<string, ReadonlySet<string>>;
  readonly segments: ReadonlyMap<string, DeclaredSegment>;
  readonly linksComplete: boolean;
}

/** Builds the paths whose entries are valid, segments replaced by the hosts in them. */
export function buildPaths(
  section: Section<PathText>,
  ground: PathGround,
  build: Build,
): readonly DeclaredPath[] {
  const known: Ground = {
    hosts: hostsBySegment(ground),
    segments: new Map(ground.segments.map((segment) => [segment.name, segment])),
    linksComplete: ground.linksComplete,
  };
  const paths = section.entries.flatMap((entry) => pathOf(entry, known, build) ?? []);
  checkNightly(section.entries, paths, build);
  return paths;
}

/** One sender at a time: what a night cannot hold is told before it begins. */
function checkNightly(
  entries: readonly Entry<PathText>[],
  paths: readonly DeclaredPath[],
  { faults }: Build,
): void {
  const nightly = paths.filter(({ fit }) => fit === 'nightly');
  const pairs = nightly.reduce((sum, { from, to }) => sum + from.length * to.length, 0);
  const last = entries.findLast(({ value }) => value.fit === 'nightly');
  if (last === undefined || pairs <= nightlyPairsMax) return;
  faults.push({
    place: spotAt(last.spot, ['fit']).value,
    what: `'fit: nightly' on more than ${nightlyPairsMax} pairs of ends`,
    seen: `${pairs}`,
    remedy: 'keep it for paths of which settings cannot tell, and name fewer ends',
  });
}

// A switch has links in the segment too, but nothing is sent from or to it: hosts are ends.
function hostsBySegment({ nodes, links }: PathGround): Ground['hosts'] {
  const switches = new Set(nodes.flatMap(({ name, role }) => (role === 'switch' ? [name] : [])));
  const hosts = new Map<string, Set<string>>();
  for (const { untagged, tagged, ends } of links) {
    for (const segment of untagged === undefined ? tagged : [untagged, ...tagged]) {
      const there = hosts.get(segment) ?? new Set<string>();
      for (const { node } of ends) if (!switches.has(node)) there.add(node);
      hosts.set(segment, there);
    }
  }
  return hosts;
}

function pathOf(entry: Entry<PathText>, ground: Ground, build: Build): DeclaredPath | undefined {
  const { key, value, spot } = entry;
  const faultsBefore = build.faults.length;
  const to = endsOf(entry, 'to', ground, build);
  const from = endsOf(entry, 'from', ground, build).filter((name) => !to.includes(name));
  const over = listOf(value.over).filter((name, i) =>
    checkName(build, { name, place: spotAt(spot, ['over', i]).value }, ['segment']),
  );
  checkMtu(entry, over, ground, build);
  if (build.faults.length === faultsBefore) checkPairs(entry, { from, to }, ground, build);
  const goodputMbps = value.goodput === undefined ? undefined : parseRate(value.goodput);
  return {
    name: key,
    place: entryPlace(spot),
    from,
    to,
    over,
    ...(value.mtu === undefined ? {} : { mtuBytes: value.mtu }),
    ...(goodputMbps === undefined ? {} : { goodputMbps }),
    ...(value.load === undefined ? {} : { load: value.load }),
    ...(value.fit === undefined ? {} : { fit: value.fit }),
  };
}

function endsOf(
  { value, spot }: Entry<PathText>,
  side: 'from' | 'to',
  ground: Ground,
  build: Build,
): readonly string[] {
  const ends = listOf(value[side]).flatMap((name, i) => {
    const place = spotAt(spot, [side, i]).value;
    if (!checkName(build, { name, place }, ['node', 'segment'])) return [];
    if (build.names.kinds.get(name) === 'node') return [name];
    const hosts = [...(ground.hosts.get(name) ?? [])];
    if (hosts.length === 0 && ground.linksComplete) {
      const remedy = 'declare the links of its hosts, or name nodes';
      build.faults.push({
        place,
        what: 'no host has a link in this segment',
        seen: quoted(name),
        remedy,
      });
    }
    return hosts;
  });
  return [...new Set(ends)];
}

function checkMtu(
  { value: { mtu }, spot }: Entry<PathText>,
  over: readonly string[],
  { segments }: Ground,
  { faults }: Build,
): void {
  const tight = over
    .flatMap((name) => segments.get(name) ?? [])
    .find(({ mtuBytes }) => mtu !== undefined && mtuBytes !== undefined && mtuBytes < mtu);
  if (tight === undefined) return;
  faults.push({
    place: spotAt(spot, ['mtu']).value,
    what: `'mtu' is larger than that of segment ${quoted(tight.name)}`,
    seen: `${mtu} over ${tight.mtuBytes} at ${placeText(tight.place)}`,
    remedy: `write ${tight.mtuBytes} or less, or raise the segment`,
  });
}

function checkPairs(
  { spot }: Entry<PathText>,
  { from, to }: Pick<DeclaredPath, 'from' | 'to'>,
  { linksComplete }: Ground,
  { faults }: Build,
): void {
  const place = spotAt(spot, ['from']).value;
  if (from.length === 0 && linksComplete) {
    const what = "'from' has no node that is not also in 'to'";
    faults.push({ place, what, remedy: 'name two different ends' });
  }
  const pairs = from.length * to.length;
  if (pairs > pathPairsMax) {
    const what = `the path has more than ${pathPairsMax} pairs of ends`;
    faults.push({ place, what, seen: `${pairs}`, remedy: 'split it into several paths' });
  }
}
