import type { DeclaredLink } from '../intent/types.ts';
import { portRef, type SiteIndex } from '../site/site-index.ts';
import { speedRefusal } from './impossible.ts';
import type { ChangeRemark, ChangeStep, CordMove } from './types.ts';

/** What is declared of a moved link, and what a port or the run in its new place cannot do. */
export interface CordRefusal extends Pick<ChangeRemark, 'on' | 'what' | 'remedy'> {
  /** The same is so where the cord lies now, so that it is no reason to leave it there. */
  readonly stands: boolean;
}

/** Undefined: nothing speaks against what is declared there. */
export function cordRefusal(index: SiteIndex, { takes, lays }: CordMove): CordRefusal | undefined {
  const before = new Set(refusalsOf(index, takes).map(({ what }) => what));
  const found = refusalsOf(index, lays).map((told) => ({ ...told, stands: before.has(told.what) }));
  return found.find(({ stands }) => !stands) ?? found[0];
}

function refusalsOf(index: SiteIndex, link: DeclaredLink | undefined) {
  const { speedMbps, run = [] } = link ?? {};
  return (link?.ends ?? []).flatMap((end) => {
    const view = index.nodes.get(end.node);
    if (view === undefined || speedMbps === undefined) return [];
    const ref = portRef(index.ports, view, end.port);
    const told = speedRefusal(ref, speedMbps, run);
    return told === undefined ? [] : [{ on: ref.id, ...told }];
  });
}

/** Of cords that are moved although what is declared of them is not reached, before or after. */
export function standingRefusals(index: SiteIndex, steps: readonly ChangeStep[]): ChangeRemark[] {
  return steps.flatMap(({ cord }): ChangeRemark[] => {
    const told = cord && cordRefusal(index, cord);
    if (told === undefined || !told.stands) return [];
    const { stands: _, what, ...rest } = told;
    const then = 'what it runs at is known only once the cord is in its new place';
    return [{ kind: 'unknown', ...rest, what: `${what}, as before the change; ${then}` }];
  });
}
