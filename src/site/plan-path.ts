import type { DeclaredPath } from '../intent/types.ts';
import { chooseRoute } from './choose-route.ts';
import { declaredHops } from './declared-hops.ts';
import { declaredAddresses, doors, footing } from './end-ports.ts';
import type { Hearing } from './hearing.ts';
import type { NodeView } from './node-view.ts';
import { detourOf } from './path-detour.ts';
import { buildGraph, type Graph, usableSegments } from './path-graph.ts';
import type { PathPlan } from './path-plan.ts';
import { crossings } from './path-ways.ts';
import type { SiteIndex } from './site-index.ts';
import { undeclaredHops } from './undeclared-hops.ts';
import { withUse } from './way-in-use.ts';

/** All pairs of all paths; pairs over the same segments share one graph. */
export function planPaths(index: SiteIndex, hearing: Hearing): PathPlan[] {
  const graphs = new Map<string, Graph>();
  return index.intent.paths.flatMap((declared) => {
    const segments = usableSegments(index, declared.over);
    const key = JSON.stringify(segments);
    const graph = graphs.get(key) ?? buildGraph(index, segments);
    graphs.set(key, graph);
    return pairsOf(index, declared).map(([from, to, id]) =>
      planPair(index, graph, { pair: { id, declared, from, to }, hearing }),
    );
  });
}

function pairsOf(index: SiteIndex, declared: DeclaredPath): [NodeView, NodeView, string][] {
  // A path is judged both ways, so the same two ends are one pair whichever comes first.
  const seen = new Set<string>();
  const pairs: [NodeView, NodeView][] = [];
  for (const fromName of new Set(declared.from)) {
    for (const toName of new Set(declared.to)) {
      const [from, to] = [index.nodes.get(fromName), index.nodes.get(toName)];
      if (from === undefined || to === undefined || from === to) continue;
      if (seen.has(JSON.stringify([toName, fromName]))) continue;
      seen.add(JSON.stringify([fromName, toName]));
      pairs.push([from, to]);
    }
  }
  return pairs.map(([from, to]) => {
    const both = `${declared.name} (${from.declared.name} to ${to.declared.name})`;
    return [from, to, pairs.length === 1 ? declared.name : both];
  });
}

type Pair = Pick<PathPlan, 'id' | 'declared' | 'from' | 'to'>;

function planPair(
  index: SiteIndex,
  graph: Graph,
  { pair, hearing }: { readonly pair: Pair; readonly hearing: Hearing },
): PathPlan {
  const { from, to } = pair;
  const routeThere = chooseRoute(from, to, declaredAddresses(index, to, graph.segments));
  const routeBack = chooseRoute(to, from, declaredAddresses(index, from, graph.segments));
  const routes = { routeThere, routeBack };
  return {
    ...pair,
    ...routes,
    mtuBytes: declaredMtu(index, pair.declared),
    doorsFrom: doors(index, from, graph.segments),
    doorsTo: doors(index, to, graph.segments),
    ...hopsOf(index, graph, { ...pair, ...routes, hearing }),
  };
}

interface Routed extends Pick<PathPlan, 'from' | 'to' | 'routeThere' | 'routeBack'> {
  readonly hearing: Hearing;
}

function hopsOf(
  index: SiteIndex,
  graph: Graph,
  { from, to, routeThere, routeBack, hearing }: Routed,
): Pick<PathPlan, 'connected' | 'hops' | 'missing' | 'detour'> {
  const linked = (node: NodeView) => index.linksOf.has(node.declared.name);
  if (!linked(from) && !linked(to)) {
    const a = undeclaredHops(index, {
      ...{ node: from, peer: to, position: 'from', there: routeThere, back: routeBack },
    });
    const b = undeclaredHops(index, {
      ...{ node: to, peer: from, position: 'to', there: routeBack, back: routeThere },
    });
    return {
      connected: true,
      hops: [...a.hops, ...b.hops],
      missing: [...a.missing, ...b.missing],
    };
  }
  const found = crossings(index, graph, from.declared.name, to.declared.name);
  const ends = {
    from,
    to,
    footingFrom: footing(routeThere, routeBack),
    footingTo: footing(routeBack, routeThere),
  };
  const hops = declaredHops(index, ends, found);
  const links = new Map(found.map(({ link }) => [link.declared.id, link]));
  const linkOf = (id: string) => links.get(id);
  const detour = detourOf([...links.values()], { from: from.declared.name, to: to.declared.name });
  return {
    connected: found.length > 0,
    hops: withUse(hops, { from, to, there: routeThere, back: routeBack, hearing, linkOf }),
    missing: [],
    ...(detour === undefined ? {} : { detour }),
  };
}

/** A path's own MTU, else the smallest of the segments it goes over. */
function declaredMtu(index: SiteIndex, path: DeclaredPath): number | undefined {
  if (path.mtuBytes !== undefined) return path.mtuBytes;
  const sizes = path.over.flatMap((name) => index.segments.get(name)?.mtuBytes ?? []);
  return sizes.length === 0 ? undefined : Math.min(...sizes);
}
