import type { Rehearsal } from '../change/rehearsal.ts';
import type { StateCost } from '../change/types.ts';
import type { Finding } from '../judge/types.ts';
import { auditWords } from './audit-words.ts';
import { causeGroups } from './cause-groups.ts';
import { disturbanceWords } from './disturbance-words.ts';
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
    start,
    order,
    paths,
    verdicts,
    pairs,
    lines,
    disturbs,
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
  const expected = (cost: StateCost | undefined, at: number) =>
    cost === undefined ? [] : [stateWords(cost, pairs?.after[at])];
  const steps = order.steps.flatMap((step, at): ProcedureStep[] => {
    const own = advice[at];
    if (own === undefined) return [];
    const moved = (paths?.after[at] ?? []).map(pathStateWords);
    const verdict = verdicts?.[at];
    const audit =
      verdict === undefined ? [] : auditWords([verdict]).map((text) => `an audit then ${text}`);
    const settled = (lines?.[at] ?? []).map(({ on, what }) => `${on} ${what}`);
    const stops = disturbs?.[at] === undefined ? [] : disturbanceWords(disturbs[at]);
    const meanwhile = stops.map((words) => `meanwhile ${words}`);
    const cautious = { ...own, cautions: [...own.cautions, ...meanwhile] };
    return [
      {
        step,
        advice: cautious,
        ...(own.labels === undefined ? {} : { where: `run: ${own.labels.join(', ')}` }),
        expected: [...settled, ...moved, ...audit, ...expected(order.costs[at], at)],
      },
    ];
  });
  const open = remarks.filter(({ kind }) => kind !== 'caution');
  return {
    site,
    about: about ?? 'a change of the network',
    surveyedAt,
    start,
    order,
    steps,
    ways: ways.map(waysInWords),
    mends: leads(fixed),
    openPoints: [
      ...open.map(
        ({ on, what, remedy }) => `${on} ${what}${remedy === undefined ? '' : `; ${remedy}`}`,
      ),
      ...causeGroups(broken).map(({ lead }) => `it breaks: ${titleWords(lead)}${doWords(lead)}`),
      ...leads(unknown).map((words) => `it leaves unknown: ${words}`),
      ...leftOutWords(waysLeftOut),
    ],
    confirmCommand,
  };
}

/** What to do about it, after what it is. */
function doWords({ advice }: Finding): string {
  return advice === undefined ? '' : `; to do: ${advice}`;
}

/** What leads each cause, in words. */
function leads(findings: readonly Finding[]): string[] {
  return causeGroups(findings).map(({ lead }) => titleWords(lead));
}
