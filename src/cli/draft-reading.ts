import { collectSurvey } from '../collect/collect-survey.ts';
import { isLiteralAddress, type PlannedNode } from '../collect/plan.ts';
import { everyTopic } from '../facts/read-topics.ts';
import type { NeighbourReading, NodeSurvey } from '../facts/survey.ts';
import { parseAddress } from '../intent/address.ts';
import type { Access } from '../intent/types.ts';
import { inPrefix } from '../site/route-lookup.ts';
import type { Door } from './draft-doors.ts';
import type { Io } from './io.ts';
import { progressOn } from './progress.ts';
import { interrupted } from './take-survey.ts';

/** Rounds of following neighbours; each goes one link further. */
export const followRoundsMax = 8;
/** Nodes that are read because a neighbour names them. */
export const followedNodesMax = 500;

/** How far neighbours are followed. */
export interface Follow {
  /** Address prefixes; empty: nobody is followed. */
  readonly within: readonly string[];
  /** What may be offered to whom was only discovered. */
  readonly safe: { readonly ssh: readonly Access[]; readonly snmp: readonly Access[] };
}

/** Everything that was read for a draft. */
export interface DraftReading {
  readonly nodes: readonly { readonly door: Door; readonly survey: NodeSurvey }[];
  /** For the operator: what was found and not read, and why. */
  readonly notes: readonly string[];
  readonly endedAt: string;
}

/** Reads the given doors, then what their neighbours name inside the prefixes, round by round. */
export async function readForDraft(
  doors: readonly Door[],
  follow: Follow,
  io: Io,
  options: { readonly quiet: boolean },
): Promise<DraftReading> {
  const nodes: { door: Door; survey: NodeSurvey }[] = [];
  const notes: string[] = [];
  const seen = new Set(doors.map(({ at }) => hostOf(at)));
  let endedAt = io.now().toISOString();
  let round: readonly Door[] = doors;
  for (let count = 0; round.length > 0; count += 1) {
    // Nobody is asked for a password that is to be offered to a stranger.
    const { askSecret: _, askLine: __, ...silent } = io;
    const read = await readRound(round, count === 0 ? io : silent, options);
    endedAt = read.endedAt;
    nodes.push(...read.nodes);
    if (follow.within.length === 0) break;
    if (count >= followRoundsMax) {
      notes.push(
        `neighbours were followed for ${followRoundsMax} rounds; draft again from the last nodes for more`,
      );
      break;
    }
    const next = nextDoors(
      read.nodes.map(({ survey }) => survey),
      follow,
      seen,
    );
    notes.push(...next.notes);
    const room = followedNodesMax - (nodes.length - doors.length);
    if (next.doors.length > room)
      notes.push(`more than ${followedNodesMax} nodes were discovered; the rest was not read`);
    round = next.doors.slice(0, Math.max(0, room));
  }
  return { nodes, notes, endedAt };
}

async function readRound(
  doors: readonly Door[],
  io: Io,
  { quiet }: { readonly quiet: boolean },
): Promise<DraftReading> {
  const planned = doors.map(plannedNode);
  const { nodeReader } = await import('./node-reader.ts');
  const reader = nodeReader(io);
  const progress = progressOn(io.stderr, { quiet, env: io.env });
  try {
    const survey = await collectSurvey(
      { site: 'draft', nodes: planned, whereabouts: new Map() },
      {
        read: io.read ?? reader.read,
        resolve: reader.resolve,
        topics: everyTopic,
        now: io.now,
        signal: io.signal,
        onNode: ({ done, of }) => progress.show(`reading: ${done} of ${of} nodes done`),
      },
    );
    if (io.signal.aborted) throw interrupted();
    const nodes = survey.nodes.flatMap((node, at) => {
      const door = doors[at];
      return door === undefined ? [] : [{ door, survey: node }];
    });
    return { nodes, notes: [], endedAt: survey.endedAt };
  } finally {
    progress.clear();
    reader.close();
  }
}

function plannedNode({ at, access }: Door): PlannedNode {
  const address = at === undefined ? undefined : parseAddress(at);
  return {
    name: at ?? 'this-machine',
    ...(address === undefined ? {} : { at: address.host }),
    ...(address?.port === undefined ? {} : { atPort: address.port }),
    access,
    peerNames: [],
  };
}

function hostOf(at: string | undefined): string {
  return at === undefined ? '' : (parseAddress(at)?.host ?? at).toLowerCase();
}

/** Neighbours that were not seen before, each by its first address inside a prefix. */
function nextDoors(
  surveys: readonly NodeSurvey[],
  { within, safe }: Follow,
  seen: Set<string>,
): { readonly doors: readonly Door[]; readonly notes: readonly string[] } {
  for (const address of surveys.flatMap(ownAddresses)) seen.add(address);
  const doors: Door[] = [];
  const notes: string[] = [];
  for (const heard of surveys.flatMap(({ neighbours = [] }) => neighbours)) {
    const addresses = heard.addresses.filter(isLiteralAddress).map((each) => each.toLowerCase());
    const inside = addresses.filter((each) => within.some((prefix) => inPrefix(each, prefix)));
    const [at] = inside;
    if (at === undefined || addresses.some((each) => seen.has(each))) continue;
    for (const each of addresses) seen.add(each);
    const access = accessFor(heard, safe);
    if (access.length > 0) doors.push({ at, access });
    else
      notes.push(
        `${at} was discovered and not read: neither passwords nor communities are offered to what was only discovered; give it as an address to read it`,
      );
  }
  return { doors, notes };
}

function ownAddresses({ ports }: NodeSurvey): string[] {
  return ports.flatMap(({ facts }) =>
    (facts.addresses ?? []).map((each) => (each.split('/')[0] ?? '').toLowerCase()),
  );
}

/** One way for each, since one login is tried at a node: agents of what forwards, hosts by SSH. */
function accessFor({ capabilities }: NeighbourReading, safe: Follow['safe']): readonly Access[] {
  const forwards = capabilities.some((each) =>
    ['bridge', 'router', 'wlan-access-point', 'repeater'].includes(each),
  );
  return forwards && safe.snmp.length > 0 ? safe.snmp : safe.ssh;
}
