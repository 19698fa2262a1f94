import { noPort } from '../change/cords.ts';
import type { PathState } from '../change/foretell.ts';
import type { Rehearsal } from '../change/rehearsal.ts';
import { compareCosts, weighCosts } from '../change/state-cost.ts';
import type { StepVerdicts } from '../change/step-verdicts.ts';
import type { ChangeStep, StateCost } from '../change/types.ts';
import type { FactValue } from '../facts/entry.ts';
import type { Finding } from '../judge/types.ts';
import { auditWords } from './audit-words.ts';
import { type CauseGroup, causeGroups } from './cause-groups.ts';
import { disturbanceWords } from './disturbance-words.ts';
import { alsoWords, titleWords } from './finding-lines.ts';
import { clean, padEnd, wrap } from './layout.ts';
import { type Paint, paintFor } from './paint.ts';
import { pathStateWords } from './path-state-words.ts';
import { labelColumns, remarkLines } from './remark-lines.ts';
import { timeWords } from './summary-line.ts';

const widthMin = 40;
const widthMax = 120;
/** Causes of one kind that are shown. */
const causesMax = 20;
/** Paths that are told after one step. */
const pathsShownMax = 8;

interface Page {
  readonly width: number;
  readonly paint: Paint;
}

/**
 * A rehearsed change: its steps in order with the state after each, and what it leaves. `confirm` is
 * the command for afterwards; absent: it was not kept.
 */
export function rehearsalText(
  rehearsal: Rehearsal,
  look: { readonly width: number; readonly colour: boolean },
  confirm?: string,
): string {
  const page: Page = {
    width: Math.min(widthMax, Math.max(widthMin, look.width)),
    paint: paintFor(look.colour),
  };
  const blocks = [
    headLines(rehearsal, page),
    orderLines(rehearsal, page),
    remarkLines(rehearsal.remarks, page),
    outcomeLines(rehearsal, page),
    // Whole on its line, to be copied.
    confirm === undefined ? [] : [`after the change: ${clean(confirm)}`],
  ].filter((lines) => lines.length > 0);
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

function headLines(
  { about, site, order, workedOut, surveyedAt, alreadySo }: Rehearsal,
  page: Page,
): string[] {
  const count = order?.steps.length ?? 0;
  const whence = workedOut ? 'worked out from the segments' : 'as listed';
  const so =
    alreadySo.length === 0
      ? ''
      : `; ${alreadySo.length} ${alreadySo.length === 1 ? 'setting is' : 'settings are'} so already`;
  const steps = `${count} ${count === 1 ? 'step' : 'steps'}, ${whence}${so}`;
  const title = about === undefined ? `rehearsal for ${site}` : `rehearsal: ${about}`;
  return [
    ...wrap('', clean(title), page.width).map(page.paint.strong),
    ...wrap(
      '',
      clean(`${steps}; on what was read ${timeWords(surveyedAt)}; nothing was changed`),
      page.width,
    ),
  ];
}

/** Steps in a row that do the same to ports of one node and leave the same state. */
interface StepGroup {
  readonly first: number;
  readonly steps: readonly ChangeStep[];
  readonly cost: StateCost;
  /** What can be typed; suggestions, never run. */
  readonly commands: readonly string[];
  /** Paths that pass something else after it. */
  readonly moved: readonly PathState[];
  /** What an audit shows after it and not before. */
  readonly audit: readonly StepVerdicts[];
  /** What stops meanwhile, in words; alike for all of them. */
  readonly stops: readonly string[];
}

function commandsAt(advice: Rehearsal['advice'], at: number): readonly string[] {
  return advice[at]?.temporary ?? [];
}

function orderLines(
  { order, start, advice, paths, verdicts, disturbs }: Rehearsal,
  page: Page,
): string[] {
  if (order === undefined) return [];
  if (order.steps.length === 0) return ['nothing is left to set'];
  const groups: StepGroup[] = [];
  order.steps.forEach((step, at) => {
    const cost = order.costs[at] ?? start;
    const moved = paths?.after[at] ?? [];
    const verdict = verdicts?.[at];
    const audit = verdict === undefined ? [] : [verdict];
    const stops = disturbs?.[at] === undefined ? [] : disturbanceWords(disturbs[at]);
    const last = groups.at(-1);
    if (last !== undefined && goesWith(last, step, cost) && last.stops.join() === stops.join())
      groups[groups.length - 1] = {
        ...last,
        steps: [...last.steps, step],
        commands: [...last.commands, ...commandsAt(advice, at)],
        moved: [...last.moved, ...moved],
        audit: [...last.audit, ...audit],
      };
    else {
      const commands = commandsAt(advice, at);
      groups.push({ first: at + 1, steps: [step], cost, commands, moved, audit, stops });
    }
  });
  return [
    ...wrap('start ', clean(stateWords(start)), page.width).map(page.paint.quiet),
    ...groups.flatMap((group) => groupLines(group, page)),
    ...verdictLines(order.costs, { start, exact: order.exact, bound: order.bound }, page),
  ];
}

function goesWith({ steps, cost }: StepGroup, step: ChangeStep, now: StateCost): boolean {
  const [first] = steps;
  return (
    first !== undefined &&
    first.node === step.node &&
    first.port !== undefined &&
    step.port !== undefined &&
    first.setting === step.setting &&
    first.from === step.from &&
    first.to === step.to &&
    first.disturbs === step.disturbs &&
    compareCosts(cost, now) === 0
  );
}

function groupLines(
  { first, steps, cost, commands, moved, audit, stops }: StepGroup,
  page: Page,
): string[] {
  const [step] = steps;
  if (step === undefined) return [];
  const number = steps.length === 1 ? `${first}` : `${first}-${first + steps.length - 1}`;
  const ports = steps.map(({ port, node }) => port ?? node).join(', ');
  const words = `${ports}: ${settingWords(step)}${disturbWords[step.disturbs]}`;
  const bad = cost.pathsApart + cost.pathsCut > 0;
  const after = wrap('      then ', clean(stateWords(cost)), page.width);
  return [
    ...wrap(padEnd(number, 6), clean(words), page.width).map(page.paint.strong),
    ...stops.flatMap((words) =>
      wrap('      meanwhile ', clean(words), page.width).map(page.paint.unknown),
    ),
    // Whole on its line, to be copied; what is not safe to type is no command.
    ...commands.map((command) => `      type ${clean(command)}`),
    ...after.map(bad ? page.paint.wrong : page.paint.quiet),
    ...pathLines(moved, page),
    ...auditWords(audit).flatMap((text) =>
      wrap('        audit: ', clean(text), page.width).map(page.paint.quiet),
    ),
  ];
}

/** Of a path that several steps of a group move, the last state. */
function pathLines(moved: readonly PathState[], page: Page): string[] {
  const last = [...new Map(moved.map((path) => [path.id, path])).values()];
  const more = last.length - pathsShownMax;
  return [
    ...last.slice(0, pathsShownMax).map(pathStateWords),
    ...(more > 0 ? [`${more} more paths pass something else`] : []),
  ].flatMap((words) => wrap('        ', clean(words), page.width).map(page.paint.quiet));
}

/** What a step sets, in words. */
export function settingWords({ setting, from, to }: ChangeStep): string {
  if (setting === 'link') return cordWords(from, to);
  if (setting === 'node') return `replaced by ${String(to)}`;
  const was = from === undefined ? '' : ` ${stepValueWords(setting, from)}`;
  return `${setting}${was} to ${stepValueWords(setting, to)}`;
}

function cordWords(from: FactValue | undefined, to: FactValue): string {
  if (to === noPort) return `cord from ${String(from)} taken away`;
  return from === undefined
    ? `a new cord to ${String(to)}`
    : `cord moved from ${String(from)} to ${String(to)}`;
}

/** What a step sets a port to, in words. */
export function stepValueWords(setting: ChangeStep['setting'], value: FactValue): string {
  if (typeof value === 'boolean') return value ? 'on' : 'off';
  return setting === 'speed' ? `${String(value)} Mb/s` : String(value);
}

const disturbWords = {
  nothing: '',
  'link-bounce': '; its link goes down for a moment',
  'node-reload': '; the node restarts',
  'node-out': '; all its links are down meanwhile',
  'link-moved': '',
} as const;

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

function losing(count: number): string {
  return `${pairs(count)} ${count === 1 ? 'loses' : 'lose'} large packets silently`;
}

function pairs(count: number): string {
  return `${count} ${count === 1 ? 'pair' : 'pairs'} of ends`;
}

function verdictLines(
  costs: readonly StateCost[],
  { start, exact, bound }: { start: StateCost; exact: boolean; bound: StateCost },
  page: Page,
): string[] {
  const { worst } = weighCosts(costs);
  const lines = (words: string, paint: (text: string) => string) =>
    wrap('order ', clean(words), page.width).map(paint);
  if (worst.pathsApart > 0) return lines(apartWords(worst, start, bound), page.paint.wrong);
  if (worst.pathsCut === 0)
    return lines(
      `no path loses large packets silently at any step${exact ? '; of all orders this one is best' : '; other orders may be as good'}`,
      page.paint.plain,
    );
  const before = start.pathsCut > 0 ? `; before the change ${losing(start.pathsCut)}` : '';
  const certain =
    bound.pathsCut > 0
      ? `no order keeps every path whole: at some step at least ${losing(bound.pathsCut)}`
      : `this order does not keep every path whole (${pairs(worst.pathsCut)} at worst); whether another does is not known, since there are too many steps to look at all orders`;
  return lines(`${certain}${before}; plan for a gap`, page.paint.wrong);
}

function apartWords(worst: StateCost, start: StateCost, bound: StateCost): string {
  const before = start.pathsApart > 0 ? `; before the change ${pairs(start.pathsApart)}` : '';
  const certain =
    bound.pathsApart > 0
      ? `no order keeps every path joined: at some step at least ${pairs(bound.pathsApart)} not joined by any cord`
      : `this order leaves ${pairs(worst.pathsApart)} not joined at worst; whether another does not is not known, since there are too many steps to look at all orders`;
  return `${certain}${before}; plan for a gap`;
}

function causeLines(label: string, { lead, others }: CauseGroup, page: Page): string[] {
  const also = alsoWords(others, false);
  return [
    ...wrap(padEnd(label, labelColumns), clean(titleWords(lead)), page.width),
    ...(also === '' ? [] : wrap(padEnd('  also', labelColumns), also, page.width)),
  ];
}

function moreCauses(label: string, findings: readonly Finding[]): string[] {
  const left = causeGroups(findings).length - causesMax;
  return left > 0 ? [`${padEnd(label, labelColumns)}${left} more`] : [];
}

function outcomeLines({ fixed, broken, unknown, standing }: Rehearsal, page: Page): string[] {
  const list = (label: string, findings: readonly Finding[]) => [
    ...causeGroups(findings)
      .slice(0, causesMax)
      .flatMap((group) => causeLines(label, group, page)),
    ...moreCauses(label, findings),
  ];
  const lines = [
    ...list('mended', fixed),
    ...list('breaks', broken).map(page.paint.wrong),
    ...list('cannot tell', unknown).map(page.paint.unknown),
  ];
  const left =
    standing.length === 0
      ? []
      : [`${standing.length} findings stand before and after; hopgauge audit shows them`];
  const none =
    lines.length === 0 ? ['no rule comes to another verdict once all steps are done'] : [];
  return [...lines, ...none, ...left];
}
