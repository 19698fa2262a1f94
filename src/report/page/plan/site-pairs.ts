import { groupBy, type Hub, type Island, type LayoutLink, neighboursOf } from './site-graph.ts';

/** So many nodes with the same two neighbours stand between the combs of these. */
const betweenMin = 3;

/**
 * The island with nodes that have the same two neighbours, as hosts with a leg on each of two
 * switches, gathered between the combs of the two: drawn one by one, nearly all their links cross.
 */
export function gatherPairs(island: Island): Island {
  const neighbours = neighboursOf({
    nodes: island.hubs.map(({ node }) => node),
    links: island.links,
  });
  const hubs = new Map(island.hubs.map((hub) => [hub.node.id, hub]));
  const looped = new Set(island.links.flatMap(({ ends: [a, b] }) => (a === b ? [a] : [])));
  const pairOf = ({ node, leaves }: Hub): string | undefined => {
    const two = [...(neighbours.get(node.id) ?? [])];
    const stay = two.every((id) => hubs.get(id)?.node.folds === false);
    const gathers = node.folds && leaves.length === 0 && !looped.has(node.id);
    return gathers && two.length === 2 && stay ? JSON.stringify(two.sort()) : undefined;
  };
  const groups = [...groupBy(island.hubs, pairOf)].filter(
    ([pair, members]) => pair !== undefined && members.length >= betweenMin,
  );
  const gathered = new Set(groups.flatMap(([, members]) => members.map(({ node }) => node.id)));
  const linksOf = groupBy(island.links, ({ ends }) => ends.find((id) => gathered.has(id)));
  const made = groups.map(([, members]) => gather(members, { hubs, neighbours, linksOf }));
  return {
    hubs: [
      ...island.hubs.filter(({ node }) => !gathered.has(node.id)),
      ...made.map((each) => each.hub),
    ],
    links: [...(linksOf.get(undefined) ?? []), ...made.flatMap(({ limbs }) => limbs)],
  };
}

interface Around {
  readonly hubs: ReadonlyMap<string, Hub>;
  readonly neighbours: ReadonlyMap<string, ReadonlySet<string>>;
  readonly linksOf: ReadonlyMap<string | undefined, readonly LayoutLink[]>;
}

function gather(members: readonly Hub[], { hubs, neighbours, linksOf }: Around) {
  const first = members[0]?.node.id ?? '';
  const two = [...(neighbours.get(first) ?? [])];
  const tiers = two.map((id) => hubs.get(id)?.node.tier ?? 0);
  // No name of a node begins with a control character.
  const id = `\u0000between ${first}`;
  const hub: Hub = {
    node: { id, width: 0, tier: Math.max(...tiers) + 1, folds: false },
    leaves: [],
    between: members.map(({ node }) => ({ node, links: linksOf.get(node.id) ?? [] })),
  };
  const limbs = two.map(
    (each): LayoutLink => ({ id: `${id} ${each}`, ends: [each, id], markWidth: 0, limb: true }),
  );
  return { hub, limbs };
}
