import type { Confirmation } from '../change/confirmation.ts';
import type { Severity } from '../judge/types.ts';
import { confirmStatus, isDark, isWrong } from './confirm-status.ts';
import { atLeast, exitStatuses } from './exit-status.ts';
import { timeWords } from './summary-line.ts';

/** What a confirmation comes to: one line with counts, when it was read, and what to mind next. */
export interface ConfirmHead {
  /** `confirmed: storage to 9000: 8 of 8 steps done, every path as foretold` */
  readonly verdict: string;
  readonly wrong: boolean;
  readonly times: string;
  /** Absent: nothing to mind. */
  readonly mind?: string;
}

/** The head of a confirmation, in words alone. */
export function confirmHead(confirmation: Confirmation, least: Severity): ConfirmHead {
  const { about, change, upTo, steps, rehearsedAt, beforeAt, readAt } = confirmation;
  const status = confirmStatus(confirmation, least);
  const whole = upTo === steps.length;
  const what = whole ? (about ?? change) : `${about ?? change}, as far as step ${upTo}`;
  const counts = [
    stepCounts(confirmation),
    pathCounts(confirmation),
    ...ruleCounts(confirmation, least),
  ].join(', ');
  const mind = mindWords(status, whole ? undefined : upTo + 1);
  return {
    verdict: `${verdictWords(status)}: ${what}: ${counts}`,
    wrong: status === exitStatuses.broken,
    times: `rehearsed ${timeWords(rehearsedAt)} on what was read until ${timeWords(beforeAt)}; read again until ${timeWords(readAt)}; nothing was changed`,
    ...(mind === undefined ? {} : { mind }),
  };
}

function verdictWords(status: number): string {
  if (status === exitStatuses.met) return 'confirmed';
  return status === exitStatuses.broken ? 'not confirmed' : 'cannot tell';
}

/** Before the next step everything has to be settled (common practice). */
function mindWords(status: number, next: number | undefined): string | undefined {
  if (status === exitStatuses.met) return undefined;
  const what = status === exitStatuses.broken ? 'mended or taken back' : 'looked at by hand';
  return next === undefined
    ? `let this be ${what} before the change is called done`
    : `let this be ${what} before step ${next}`;
}

function stepCounts({ steps }: Confirmation): string {
  const expected = steps.filter((step) => step.expected);
  if (expected.length === 0) return 'no step was to be done';
  const done = expected.filter(({ verdict }) => verdict === 'done').length;
  const noun = expected.length === 1 ? 'step' : 'steps';
  const wrong = expected.filter(isWrong).length;
  const dark = expected.filter(isDark).length;
  return [
    `${done} of ${expected.length} ${noun} done`,
    ...(wrong > 0 && dark > 0 ? [`${wrong} not as asked for`] : []),
    ...(dark > 0 ? [`${dark} that cannot be told`] : []),
  ].join(', ');
}

function pathCounts({ paths }: Confirmation): string {
  if (paths.length === 0) return 'no path is declared';
  const count = (verdict: Confirmation['paths'][number]['verdict']) =>
    paths.filter((path) => path.verdict === verdict).length;
  const well = count('as-foretold');
  if (well === paths.length) return 'every path as foretold';
  const rest = [
    ['less', 'with less'],
    ['more', 'with more'],
    ['cannot-tell', 'that cannot be told'],
    ['never-known', 'never known'],
  ] as const;
  return [
    `${well} of ${paths.length} ${paths.length === 1 ? 'path' : 'paths'} as foretold`,
    ...rest.flatMap(([verdict, words]) =>
      count(verdict) > 0 ? [`${count(verdict)} ${words}`] : [],
    ),
  ].join(', ');
}

function ruleCounts({ findings, errors, followers }: Confirmation, least: Severity): string[] {
  const count = (list: Confirmation['findings']['broken']) =>
    list.filter(({ severity }) => atLeast(severity, least)).length;
  const otherwise = followers.filter(({ is }) => is !== undefined).length;
  const ports = new Set(errors.map(({ node, port }) => `${node}:${port}`)).size;
  return [
    [otherwise, 'otherwise than foretold'],
    [count(findings.broken), 'newly broken'],
    [count(findings.notMended), 'not mended'],
    [ports, ports === 1 ? 'port with new errors' : 'ports with new errors'],
  ].flatMap(([many, words]) => (many === 0 ? [] : [`${many} ${words}`]));
}
