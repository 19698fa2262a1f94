import type { Rehearsal } from '../change/rehearsal.ts';
import type { StateCost } from '../change/types.ts';
import { auditWords } from './audit-words.ts';
import { titleWords } from './finding-lines.ts';
import { pathStateWords } from './path-state-words.ts';
import type { ProcedureInput, ProcedureStep } from './procedure-types.ts';
import { stateWords } from './state-words.ts';
import { leftOutWords, waysInWords } from './ways-words.ts';

/** What a procedure is written from; undefined where no order of the steps is possible. */
export function procedureOf(
  {
    site,
    about,
    surveyedAt,
    order,
    paths,
    verdicts,
    advice,
    fixed,
    broken,
    unknown,
    remarks,
    ways,
    waysLeftOut,
  }: Rehearsal,
  confirmCommand: string,
): ProcedureInput | undefined {
  if (order === undefined) return undefined;
  const expected = (cost: StateCost | undefined) => (cost === undefined ? [] : [stateWords(cost)]);
  const steps = order.steps.flatMap((step, at): ProcedureStep[] => {
    const own = advice[at];
    if (own === undefined) return [];
    const moved = (paths?.after[at] ?? []).map(pathStateWords);
    const verdict = verdicts?.[at];
    const audit =
      verdict === undefined ? [] : auditWords([verdict]).map((text) => `an audit then ${text}`);
    return [{ step, advice: own, expected: [...moved, ...audit, ...expected(order.costs[at])] }];
  });
  const open = remarks.filter(({ kind }) => kind !== 'caution');
  return {
    site,
    about: about ?? 'a change of the network',
    surveyedAt,
    order,
    steps,
    ways: ways.map(waysInWords),
    mends: fixed.map(titleWords),
    openPoints: [
      ...open.map(
        ({ on, what, remedy }) => `${on} ${what}${remedy === undefined ? '' : `; ${remedy}`}`,
      ),
      ...broken.map((finding) => `it breaks: ${titleWords(finding)}`),
      ...unknown.map((finding) => `it leaves unknown: ${titleWords(finding)}`),
      ...leftOutWords(waysLeftOut),
    ],
    confirmCommand,
  };
}
