import type { BrokenPairs } from '../change/broken-pairs.ts';
import type { StateCost } from '../change/types.ts';

/** What is wrong in a state, in words; `named`: which pairs of ends these are. */
export function stateWords(cost: StateCost, named?: BrokenPairs): string {
  const { pathsApart, pathsCut, pathsReduced, clearanceLackBytes } = cost;
  if (pathsApart + pathsCut + pathsReduced === 0)
    return 'no path is known to lack what is declared';
  const broken = pathsApart + pathsCut === 0 ? [] : [brokenWords(cost, named)];
  const reduced = pathsReduced === 0 ? [] : [`${pairs(pathsReduced)} not yet as declared`];
  const lack = clearanceLackBytes === 0 ? [] : [`${clearanceLackBytes} bytes lacking in all`];
  return [...broken, ...reduced, ...lack].join(', ');
}

/** The pairs of ends that are apart, or lose large packets silently, in words. */
export function brokenWords({ pathsApart, pathsCut }: StateCost, named?: BrokenPairs): string {
  const apart =
    pathsApart === 0
      ? []
      : [`${pairs(pathsApart)} not joined by any cord${namesOf(named?.apart, pathsApart)}`];
  const cut =
    pathsCut === 0
      ? []
      : [`${losing(pathsCut)} at a hop in the middle${namesOf(named?.cut, pathsCut)}`];
  return [...apart, ...cut].join(', ');
}

function namesOf(ids: readonly string[] = [], count: number): string {
  const more = count - ids.length;
  if (ids.length === 0) return '';
  return ` (${ids.join(', ')}${more > 0 ? ` and ${more} more` : ''})`;
}

/** So many pairs of ends that lose large packets. */
function losing(count: number): string {
  return `${pairs(count)} ${count === 1 ? 'loses' : 'lose'} large packets silently`;
}

/** So many pairs of ends. */
function pairs(count: number): string {
  return `${count} ${count === 1 ? 'pair' : 'pairs'} of ends`;
}
