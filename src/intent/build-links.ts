import { quoted } from './fault.ts';
import { checkPortsOfLinks } from './link-ports.ts';
import { type LinkText, splitEnd } from './link-schema.ts';
import { type Build, checkName } from './names.ts';
import { parseRunPiece } from './run-piece.ts';
import { listOf } from './schema-parts.ts';
import type { Entry, Section } from './sections.ts';
import { parseSpeed } from './speed.ts';
import { type Spot, spotAt } from './spot.ts';
import type { DeclaredLink, DeclaredNode, LinkEnd, RunPiece } from './types.ts';

/** Builds the links whose entries are valid, and judges them together. */
export function buildLinks(
  section: Section<LinkText>,
  nodes: readonly DeclaredNode[],
  build: Build,
): readonly DeclaredLink[] {
  const byName = new Map(nodes.map((node) => [node.name, node]));
  const links = section.entries.flatMap((entry) => linkOf(entry, byName, build) ?? []);
  checkPortsOfLinks(links, byName, build.faults);
  if (section.entriesComplete) checkAggregates(section.entries, build);
  return links;
}

type NodesByName = ReadonlyMap<string, DeclaredNode>;

function linkOf(
  entry: Entry<LinkText>,
  nodes: NodesByName,
  build: Build,
): DeclaredLink | undefined {
  const { value, spot } = entry;
  const a = endOf(entry, 0, nodes, build);
  const b = endOf(entry, 1, nodes, build);
  checkSegments(entry, build);
  if (a === undefined || b === undefined) return undefined;
  const speedMbps = value.speed === undefined ? undefined : parseSpeed(value.speed);
  return {
    id: `${value.ends[0]} - ${value.ends[1]}`,
    place: spot.value,
    ends: [a, b],
    ...(value.untagged === undefined ? {} : { untagged: value.untagged }),
    tagged: listOf(value.tagged),
    ...(speedMbps === undefined ? {} : { speedMbps }),
    duplex: value.duplex ?? 'full',
    ...(value.lag === undefined ? {} : { lag: value.lag }),
    run: (value.run ?? []).flatMap((text, i) => pieceOf(text, spotAt(spot, ['run', i]))),
  };
}

function endOf(
  { value, spot }: Entry<LinkText>,
  index: 0 | 1,
  nodes: NodesByName,
  build: Build,
): LinkEnd | undefined {
  const text = value.ends[index];
  const place = spotAt(spot, ['ends', index]).value;
  const end = splitEnd(text);
  if (end === undefined) {
    const remedy = endRemedy(text.replace(/:$/, ''), nodes);
    build.faults.push({ place, what: 'an end must be node:port', seen: quoted(text), remedy });
    return undefined;
  }
  return checkName(build, { name: end.node, place }, ['node']) ? { ...end, place } : undefined;
}

function endRemedy(text: string, nodes: NodesByName): string {
  const node = nodes.get(text);
  if (node === undefined) return "write the node, a colon and the port, such as 'plot-1:en7'";
  return `write '${node.name}:${node.ports[0]?.alias ?? 'PORT'}', with the port that is meant`;
}

function checkSegments({ value, spot }: Entry<LinkText>, build: Build): void {
  if (value.untagged !== undefined) {
    const place = spotAt(spot, ['untagged']).value;
    checkName(build, { name: value.untagged, place }, ['segment']);
  }
  listOf(value.tagged).forEach((name, i) => {
    checkName(build, { name, place: spotAt(spot, ['tagged', i]).value }, ['segment']);
  });
}

function pieceOf(text: string, spot: Spot): readonly RunPiece[] {
  const read = parseRunPiece(text);
  return read.ok ? [{ ...read.piece, place: spot.value }] : [];
}

function checkAggregates(entries: readonly Entry<LinkText>[], { faults }: Build): void {
  const members = new Map<string, Entry<LinkText>[]>();
  for (const entry of entries) {
    if (entry.value.lag === undefined) continue;
    members.set(entry.value.lag, [...(members.get(entry.value.lag) ?? []), entry]);
  }
  for (const [lag, [only, more]] of members) {
    if (only === undefined || more !== undefined) continue;
    const place = spotAt(only.spot, ['lag']).value;
    const remedy = 'give another link the same lag, or remove it';
    faults.push({ place, what: 'an aggregate has one link only', seen: quoted(lag), remedy });
  }
}
