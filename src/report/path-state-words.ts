import type { PathState } from '../change/foretell.ts';

/** What a path is foretold to pass, in words. */
export function pathStateWords({
  id,
  joined,
  atLeastBytes: least,
  atMostBytes: most,
  declaredBytes,
}: PathState): string {
  if (!joined) return `${id}: its ends are not joined`;
  const of = declaredBytes === undefined ? '' : ` of ${declaredBytes}`;
  if (most === undefined)
    return least === undefined
      ? `${id}: what passes is not known`
      : `${id}: at least ${least}${of} bytes pass`;
  if (least === most) return `${id}: ${most}${of} bytes pass`;
  const certain = least === undefined ? '' : `, at least ${least}`;
  return `${id}: at most ${most}${certain}${of} bytes pass`;
}
