import type { StateCost } from '../change/types.ts';

/** What is wrong in a state, in words. */
export function stateWords({
  pathsApart,
  pathsCut,
  pathsReduced,
  clearanceLackBytes,
}: StateCost): string {
  if (pathsApart + pathsCut + pathsReduced === 0)
    return 'no path is known to lack what is declared';
  const apart = pathsApart === 0 ? [] : [`${pairs(pathsApart)} not joined by any cord`];
  const cut = pathsCut === 0 ? [] : [`${losing(pathsCut)} at a hop in the middle`];
  const reduced = pathsReduced === 0 ? [] : [`${pairs(pathsReduced)} not yet as declared`];
  const lack = clearanceLackBytes === 0 ? [] : [`${clearanceLackBytes} bytes lacking in all`];
  return [...apart, ...cut, ...reduced, ...lack].join(', ');
}

/** So many pairs of ends that lose large packets. */
export function losing(count: number): string {
  return `${pairs(count)} ${count === 1 ? 'loses' : 'lose'} large packets silently`;
}

/** So many pairs of ends. */
export function pairs(count: number): string {
  return `${count} ${count === 1 ? 'pair' : 'pairs'} of ends`;
}
