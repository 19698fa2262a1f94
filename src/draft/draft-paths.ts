import { byName } from '../facts/order.ts';
import type { Segments } from './find-segments.ts';
import type { NameGiver } from './names.ts';
import { networkOf } from './network.ts';
import type { Standing } from './standings.ts';
import type { DraftPath, Machine } from './types.ts';

/** Paths that are only suggested, at most. */
const suggestedMax = 8;

/** Paths from clients to the file servers that they have mounted, and pairs that might be meant. */
export function draftPaths(
  standings: readonly Standing[],
  segments: Segments,
  names: NameGiver,
): { readonly paths: readonly DraftPath[]; readonly questions: readonly string[] } {
  const machines = [...new Set(standings.map(({ machine }) => machine))].filter(
    ({ isSwitch }) => !isSwitch,
  );
  const mounted = machines.flatMap((from) => mountPaths(from, machines, segments));
  const unique = new Map(mounted.map((path) => [`${path.from} ${path.to} ${path.over}`, path]));
  const paths = [...unique.values()]
    .sort((a, b) => byName(`${a.from} ${a.to}`, `${b.from} ${b.to}`))
    .map((path) => ({ ...path, name: names.give(`${path.from}-to-${path.to}`) }));
  return { paths, questions: paths.length > 0 ? [] : suggestions(standings, segments) };
}

function mountPaths(
  from: Machine,
  machines: readonly Machine[],
  segments: Segments,
): Omit<DraftPath, 'name'>[] {
  return from.survey.mounts.flatMap(({ server, kind }) => {
    const to = machines.find((each) => each !== from && answersTo(each, server));
    if (to === undefined) return [];
    const over = commonSegment(from, to, { server, segments });
    if (over === undefined) return [];
    return [{ from: from.name, to: to.name, over, known: `${from.name} has mounted it (${kind})` }];
  });
}

function answersTo({ survey, at }: Machine, server: string): boolean {
  const known = [at, survey.facts.systemName, ...addressesOf(survey)];
  const bare = server.toLowerCase();
  return known.some((each) => {
    const name = each?.toLowerCase();
    return name !== undefined && (name === bare || name.split('.')[0] === bare);
  });
}

function addressesOf({ ports }: Machine['survey']): string[] {
  return ports.flatMap(({ facts }) =>
    (facts.addresses ?? []).map((each) => each.split('/')[0] ?? ''),
  );
}

/** The segment of the address that was mounted; by name, the one segment that both stand in. */
function commonSegment(
  from: Machine,
  to: Machine,
  { server, segments }: { readonly server: string; readonly segments: Segments },
): string | undefined {
  const mine = new Set(segmentsOf(from, segments));
  const theirs = to.survey.ports.flatMap(({ facts }) => facts.addresses ?? []);
  const exact = theirs.find((each) => each.split('/')[0] === server);
  const named = exact === undefined ? undefined : segments.ofNetwork(networkOf(exact) ?? '');
  if (named !== undefined) return mine.has(named) ? named : undefined;
  const common = [...new Set(segmentsOf(to, segments))].filter((each) => mine.has(each));
  return common.length === 1 ? common[0] : undefined;
}

function segmentsOf({ survey }: Machine, segments: Segments): string[] {
  const addresses = survey.ports.flatMap(({ facts }) => facts.addresses ?? []);
  return addresses.flatMap((each) => segments.ofNetwork(networkOf(each) ?? '') ?? []);
}

function suggestions(standings: readonly Standing[], segments: Segments): string[] {
  const pairs = new Set<string>();
  for (const a of standings) {
    for (const b of standings) {
      if (a.machine.isSwitch || b.machine.isSwitch || a.network !== b.network) continue;
      if (byName(a.machine.name, b.machine.name) >= 0) continue;
      const over = segments.ofNetwork(a.network) ?? '';
      pairs.add(`{ from: ${a.machine.name}, to: ${b.machine.name}, over: ${over} }`);
      if (pairs.size > suggestedMax) break;
    }
  }
  return [...pairs].slice(0, suggestedMax).map((pair) => `which way matters? such as: ${pair}`);
}
