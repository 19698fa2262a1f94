import { compareNode } from '../drift/compare-node.ts';
import { countersBeganAgain, growthsOf } from '../drift/growth.ts';
import type { Change, KnownNode } from '../drift/known-node.ts';
import type { Growth } from '../drift/night.ts';
import { wasRead } from '../facts/was-read.ts';
import type { ConfirmBench } from './confirm-stage.ts';
import type { FollowerOutcome, MovedSince, UnreadNode } from './confirmation.ts';
import { factKey, ownTargets } from './follower-outcomes.ts';
import { factReader, type ReadFact, sameValue } from './port-reading.ts';
import type { ChangeStep } from './types.ts';
import { factsOfThePlace } from './unplug.ts';

/** What is told elsewhere or follows from the steps, and is no news. */
export interface Explained {
  readonly followers: readonly FollowerOutcome[];
  /** What would be read if the steps that were really taken were all. */
  readonly taken: ReadFact;
  /** Those steps. */
  readonly steps: readonly ChangeStep[];
}

/** What moved since the rehearsal beside the steps, what was counted, and who did not answer. */
export function movedSince(bench: ConfirmBench, explained: Explained): MovedSince {
  const { kept, survey } = bench;
  const at = survey.endedAt;
  const known = new Map<string, KnownNode>(
    kept.nodes
      .filter(wasRead)
      .map((node) => [
        node.node,
        { node: node.node, seenAt: kept.endedAt, survey: node, older: [] },
      ]),
  );
  const isNews = newsFilter(bench, explained);
  const disturbed = new Set(
    explained.steps.filter((step) => step.disturbs !== 'nothing').map(({ node }) => node),
  );
  const bounced = bounceFilter(bench, disturbed);
  const both = survey.nodes.flatMap((now) => {
    const before = known.get(now.node);
    return before === undefined ? [] : [{ before, now }];
  });
  const growths = both.flatMap(({ before, now }) => growthsOf(before, now, at));
  return {
    moved: both.flatMap(({ before, now }) => compareNode(before, now, at).changes).filter(isNews),
    errors: growths.filter((growth) => !bounced(growth)),
    bounces: growths.filter(bounced),
    unread: unreadNodes(bench, known),
    uncounted: both.flatMap(({ before, now }) =>
      countersBeganAgain(before, now, at)
        ? [{ node: now.node, byChange: disturbed.has(now.node) }]
        : [],
    ),
  };
}

/** Facts that follow from a new speed, duplex or negotiation of a port. */
const lineFollows = new Set(['advertisedModes', 'mediaText', 'linkText', 'phyText']);

function newsFilter(
  bench: ConfirmBench,
  { followers, taken, steps }: Explained,
): (change: Change) => boolean {
  const told = new Set([
    ...ownTargets(bench),
    ...steps
      .filter(({ setting }) => setting === 'link')
      .map(({ node, portName }) => factKey(node, portName, 'neighbour')),
    ...followers.map(({ node, portName, fact }) => factKey(node, portName, fact)),
  ]);
  const foretold = factReader(bench.foretold.survey);
  const lines = new Set(
    steps
      .filter(({ setting }) => setting !== 'mtu')
      .map(({ node, portName }) => JSON.stringify([node, portName])),
  );
  const isReplaced = new Set(steps.flatMap(({ node, arrives }) => (arrives ? [node] : [])));
  return (change) => {
    const { node, port } = change;
    if (change.kind !== 'fact') return true;
    const { fact, is } = change;
    // What another device tells of itself is no news of it.
    if (isReplaced.has(node) && !factsOfThePlace.some((each) => each === fact)) return false;
    if (port === undefined) return true;
    if (told.has(factKey(node, port, fact))) return false;
    if (lineFollows.has(fact) && lines.has(JSON.stringify([node, port]))) return false;
    return ![foretold, taken].some((model) => sameValue(model(node, port, fact), is));
  };
}

/** Whether a link went down next to a step that takes links down. */
function bounceFilter(
  { index, foundSite }: ConfirmBench,
  nodes: ReadonlySet<string>,
): (growth: Growth) => boolean {
  const beside = new Set(
    foundSite.links.flatMap(({ ends: [a, b] }) => [
      ...(nodes.has(b.node) ? [a.id] : []),
      ...(nodes.has(a.node) ? [b.id] : []),
    ]),
  );
  const idOf = (node: string, port: string) =>
    `${node}:${index.nodes.get(node)?.aliases.ofName.get(port) ?? port}`;
  return ({ node, port, fact }) =>
    (fact === 'carrierChanges' || fact === 'linkDownEvents') &&
    (nodes.has(node) || beside.has(idOf(node, port)));
}

function unreadNodes({ index }: ConfirmBench, known: ReadonlyMap<string, KnownNode>): UnreadNode[] {
  return [...index.nodes.values()].flatMap(({ declared, gap }) => {
    if (declared.unread !== undefined || gap === undefined) return [];
    const { name, sleeps, mayBeAbsent } = declared;
    return [
      {
        node: name,
        words: gap.words,
        readBefore: known.has(name),
        mayBeAbsent: sleeps || mayBeAbsent,
      },
    ];
  });
}
