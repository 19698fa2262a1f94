import type { Change } from './known-node.ts';
import type { Night } from './night.ts';
import type { OpenFinding } from './settle-findings.ts';
import { chartedFacts, type Silence } from './silences.ts';
import type { EndedSilence, FindingLife, SeenChange, SitePast } from './site-past.ts';
import type { KeptAudit } from './timeline.ts';

/**
 * What the history will have once tonight is written, so that a report that is made before shows
 * tonight as well. `firstSeen` of a port that the past has nothing of is the first night shown: it
 * may be older.
 */
export function addNight(past: SitePast, night: Night): SitePast {
  const firstSeen = firstSeenIn(past, night.startedAt);
  return {
    ...past,
    nights: [...past.nights, auditOf(night)],
    changes: [
      ...past.changes,
      ...night.changes.flatMap((each) => changeOf(each, night, firstSeen)),
    ],
    growths: [
      ...past.growths,
      ...night.growths.map((growth) => ({
        kind: 'grown' as const,
        at: night.startedAt,
        ...growth,
        firstSeen: firstSeen(growth.node, growth.port),
      })),
    ],
    silences: settleSilences(past.silences, night),
    lives: settleLives(past.lives, night),
  };
}

type FirstSeen = (node: string, port: string, otherwise?: string) => string;

function firstSeenIn(past: SitePast, tonight: string): FirstSeen {
  const known = new Map(
    [...past.changes, ...past.growths].map(({ node, port, firstSeen }) => [
      keyOf(node, port),
      firstSeen,
    ]),
  );
  const first = past.nights[0]?.startedAt ?? tonight;
  return (node, port, otherwise = first) => known.get(keyOf(node, port)) ?? otherwise;
}

/** No name of a node holds a line break. */
function keyOf(node: string, port = '', fact = ''): string {
  return `${node}\n${port}\n${fact}`;
}

function auditOf({ startedAt, endedAt, complete, tally, nodesRead, nodesAsked, told }: Night) {
  const { met, broken, undetermined, waived } = tally;
  const audit: KeptAudit = {
    startedAt,
    endedAt,
    complete,
    met,
    broken,
    undetermined,
    waived,
    nodesRead,
    nodesAsked,
    told,
  };
  return audit;
}

function changeOf(change: Change, { startedAt: at }: Night, firstSeen: FirstSeen): SeenChange[] {
  const { node, port, seenAt, why } = change;
  if (port === undefined || change.kind === 'port-renamed') return [];
  const charted: readonly string[] = chartedFacts;
  if (change.kind === 'fact' && !charted.includes(change.fact)) return [];
  const moved =
    change.kind === 'fact'
      ? { fact: change.fact, was: change.was, is: change.is }
      : { fact: 'present', was: change.kind === 'port-gone', is: change.kind === 'port-new' };
  return [
    {
      kind: 'changed',
      at,
      node,
      port,
      // A port that is new tonight was seen first tonight, unless it came back.
      firstSeen: firstSeen(node, port, change.kind === 'port-new' ? at : undefined),
      ...moved,
      seenAt,
      ...(why === undefined ? {} : { why }),
    },
  ];
}

function settleSilences(before: readonly EndedSilence[], night: Night): readonly EndedSilence[] {
  const key = ({ node, port, fact }: Silence) => keyOf(node, port, fact);
  const lasting = new Set(night.silences.map(key));
  const open = new Set(before.flatMap((each) => (each.endedAt === undefined ? [key(each)] : [])));
  const read = new Set(night.known.map(({ node }) => node));
  return [
    ...before.map((each) =>
      each.endedAt === undefined && read.has(each.node) && !lasting.has(key(each))
        ? { ...each, endedAt: night.startedAt }
        : each,
    ),
    ...night.silences.filter((each) => !open.has(key(each))),
  ];
}

/** As the store settles them: what was never told and is gone never was, to the reader. */
function settleLives(before: readonly FindingLife[], night: Night): readonly FindingLife[] {
  const open = new Map(night.open.map((each) => [each.id, each]));
  const known = new Set<string>();
  const settled = before.flatMap((life): FindingLife[] => {
    if (life.clearedAt !== undefined) return [life];
    const now = open.get(life.id);
    if (now === undefined)
      return life.toldAt === undefined ? [] : [{ ...life, clearedAt: night.startedAt }];
    known.add(life.id);
    return [lifeOf(now, life.toldAt ?? night.startedAt)];
  });
  const fresh = night.open.filter(({ id }) => !known.has(id));
  return [...settled, ...fresh.map((each) => lifeOf(each, night.startedAt))];
}

function lifeOf({ told, ...open }: OpenFinding, toldAt: string): FindingLife {
  return { ...open, ...(told ? { toldAt } : {}) };
}
