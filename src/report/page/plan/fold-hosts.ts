import { type LinkReading, linkStates } from './link-state.ts';
import { groupBy, neighboursOf } from './site-graph.ts';
import type { Sheet } from './site-sheets.ts';
import { standings, type Told } from './standing.ts';
import type { SheetLink, SheetNode } from './whole-sheet.ts';

/**
 * A drawing with its hosts counted instead of drawn: those with one neighbour become one count
 * beside it, with the gravest of what is told of them and of their links.
 */
export function foldHosts({ title, nodes, links }: Sheet): Sheet {
  const bare = nodes.map(({ id }) => ({ id, width: 0, tier: 0, folds: false }));
  const plain = links.map(({ id, ends }) => ({ id, ends, markWidth: 0 }));
  const neighbours = neighboursOf({ nodes: bare, links: plain });
  const hubOf = new Map(
    nodes.flatMap(({ id, kind }) => {
      const [only, ...others] = neighbours.get(id) ?? [];
      return kind !== 'host' || only === undefined || others.length > 0 ? [] : [[id, only]];
    }),
  );
  // Of two hosts that have only each other, neither is behind the other.
  const isFolded = (id: string) => hubOf.has(id) && !hubOf.has(hubOf.get(id) ?? '');
  const behind = groupBy(
    nodes.filter(({ id }) => isFolded(id)),
    ({ id }) => hubOf.get(id) ?? '',
  );
  const counts = [...behind].map(([hub, hosts]) => {
    const ids = new Set(hosts.map(({ id }) => id));
    const theirs = links.filter(({ ends }) => ends.some((end) => ids.has(end)));
    return countOf(hub, hosts, theirs);
  });
  return {
    title,
    nodes: [...nodes.filter(({ id }) => !isFolded(id)), ...counts.map(({ node }) => node)],
    links: [...links.filter(({ ends }) => !ends.some(isFolded)), ...counts.map(({ link }) => link)],
  };
}

interface Count {
  readonly node: SheetNode;
  readonly link: SheetLink;
}

function countOf(hub: string, hosts: readonly SheetNode[], links: readonly SheetLink[]): Count {
  const name = `${hosts.length} host${hosts.length === 1 ? '' : 's'}`;
  // No node has a blank before a colon in its name, so that no count is taken for a node.
  const id = `${hub} : ${name}`;
  const unread = hosts.find(({ reading }) => reading !== 'read');
  const node: SheetNode = {
    id,
    name,
    kind: 'count',
    reading: unread?.reading ?? 'read',
    told: together(hosts.map(({ told }) => told)),
    details: hub,
  };
  const link: SheetLink = {
    id: `${hub} - ${name}`,
    ends: [hub, id],
    reading: summed(links),
    told: together(links.map(({ told }) => told)),
    segments: [],
  };
  return { node, link };
}

function together(told: readonly Told[]): Told {
  const standing = standings.find((each) => told.some((one) => one.standing === each)) ?? 'met';
  return { standing, count: told.reduce((sum, { count }) => sum + count, 0) };
}

const countedWords = {
  down: 'down',
  'too-small': 'MTU too small',
  slow: 'slow',
  'not-known': 'not known',
  'as-declared': 'as declared',
  'not-declared': 'not declared',
} as const;

/** The gravest state, and how many links are in each that is not as declared. */
function summed(links: readonly SheetLink[]): LinkReading {
  const byState = groupBy(links, ({ reading }) => reading.state);
  const found = linkStates.filter((state) => byState.has(state));
  return {
    state: found[0] ?? 'as-declared',
    marks: found
      .filter((state) => state !== 'as-declared')
      .map((state) => `${byState.get(state)?.length ?? 0} ${countedWords[state]}`),
  };
}
