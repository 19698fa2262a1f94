import type { Site, SitePath } from '../site/types.ts';
import type { ConfirmBench } from './confirm-stage.ts';
import type { PathOutcome, WayOutcome } from './confirmation.ts';
import { type PathState, pathStates } from './foretell.ts';
import type { Placed } from './placed.ts';

/** What every path passes now, against what was foretold. */
export function pathOutcomes(placed: Placed): PathOutcome[] {
  const { bench, otherwise } = placed;
  const foretold = new Map(pathStates(bench.foretoldSite).map((path) => [path.id, path]));
  const without = otherwise && new Map(pathStates(otherwise).map((path) => [path.id, path]));
  const doubtful = doubtfulPaths(placed);
  const touched = touchedPaths(bench);
  return pathStates(bench.foundSite).flatMap((found): PathOutcome[] => {
    const { id } = found;
    const then = foretold.get(id);
    if (then === undefined) return [];
    const told = (verdict: PathOutcome['verdict'], why?: string): PathOutcome[] => [
      { id, verdict, foretold: then, found, ...(why === undefined ? {} : { why }) },
    ];
    if (doubtful.has(id)) return told('cannot-tell', 'where a cord of it ends cannot be told');
    const verdict = pathVerdict(then, found, touched.has(id));
    const doubt = without?.get(id);
    if (doubt === undefined || verdict === 'less' || same(doubt, found)) return told(verdict);
    return told('cannot-tell', 'it rests on steps of which nobody can tell that they were taken');
  });
}

/** Paths over a cord of which nobody can tell where it ends, there or where it was. */
function doubtfulPaths({ bench, otherwise, doubtfulLinks }: Placed): ReadonlySet<string> {
  if (doubtfulLinks.size === 0) return new Set();
  const paths = [...bench.foundSite.paths, ...(otherwise?.paths ?? [])];
  const over = paths.filter(({ hops }) =>
    hops.some(({ linkId = '' }) => doubtfulLinks.has(linkId)),
  );
  return new Set(over.map(({ id }) => id));
}

function same(a: PathState, b: PathState): boolean {
  return (
    a.joined === b.joined && a.atLeastBytes === b.atLeastBytes && a.atMostBytes === b.atMostBytes
  );
}

/** Paths in a segment of the change, or over a node that it sets something on. */
function touchedPaths({ foundSite, planned, order }: ConfirmBench): ReadonlySet<string> {
  const nodes = new Set(order.map(({ node }) => node));
  const touched = ({ declared, hops }: SitePath) =>
    declared.over.some((name) => planned.segments.includes(name)) ||
    hops.some(({ port }) => nodes.has(port.node));
  return new Set(foundSite.paths.filter(touched).map(({ id }) => id));
}

/**
 * What a path passes against what was foretold. `touched`: the change has to do with it, so that what
 * nobody knows of it is no confirmation.
 */
export function pathVerdict(
  foretold: PathState,
  found: PathState,
  touched: boolean,
): PathOutcome['verdict'] {
  if (found.joined !== foretold.joined) return found.joined ? 'more' : 'less';
  if (!found.joined) return 'as-foretold';
  const { atLeastBytes: least = 0, atMostBytes: most = Infinity } = found;
  const { atLeastBytes: wanted = 0, atMostBytes: limit = Infinity } = foretold;
  if (most < wanted) return 'less';
  if (least > limit) return 'more';
  // What was foretold to be at least so much has to be seen to be, and on a path that is touched
  // also what is declared, unless that was foretold not to pass yet.
  const { declaredBytes = 0 } = foretold;
  const declared = touched && declaredBytes <= limit ? declaredBytes : 0;
  if (found.atLeastBytes === undefined && found.atMostBytes === undefined && wanted === 0)
    return touched ? 'cannot-tell' : 'never-known';
  return least >= Math.max(wanted, declared) ? 'as-foretold' : 'cannot-tell';
}

const wayFacts = { routedWhole: 'routed-whole', leavesByDeclaredPort: 'leaves' } as const;

/** Directions that were foretold to be well, and are not or cannot be seen to be. */
export function wayOutcomes(foretold: Site, found: Site): WayOutcome[] {
  const now = new Map(found.directions.map(({ id, subject }) => [id, subject.facts]));
  return foretold.directions.flatMap(({ id, subject }) =>
    (['routedWhole', 'leavesByDeclaredPort'] as const).flatMap((fact): WayOutcome[] => {
      const is = now.get(id)?.[fact];
      if (subject.facts[fact] !== true || is === true) return [];
      return [{ id, what: wayFacts[fact], verdict: is === false ? 'less' : 'cannot-tell' }];
    }),
  );
}
