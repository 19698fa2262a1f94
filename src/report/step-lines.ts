import type { BrokenPairs } from '../change/broken-pairs.ts';
import type { PathState } from '../change/foretell.ts';
import type { Rehearsal } from '../change/rehearsal.ts';
import { compareCosts } from '../change/state-cost.ts';
import type { StepVerdicts } from '../change/step-verdicts.ts';
import type { ChangeStep, StateCost } from '../change/types.ts';
import { auditWords } from './audit-words.ts';
import { disturbanceWords } from './disturbance-words.ts';
import { clean, padEnd, wrap } from './layout.ts';
import { pathStateWords } from './path-state-words.ts';
import { stateWords } from './state-words.ts';
import { stepWords } from './step-words.ts';
import type { TextLook } from './text-look.ts';

/** Paths that are told after one step. */
const pathsShownMax = 8;

/** Steps in a row that do the same to ports of one node and leave the same state. */
interface StepGroup {
  readonly first: number;
  readonly steps: readonly ChangeStep[];
  readonly cost: StateCost;
  /** Which pairs that counts; undefined: they are not named. */
  readonly pairs: BrokenPairs | undefined;
  /** What can be typed; suggestions, never run. */
  readonly commands: readonly string[];
  /** Why a system has no command for it. */
  readonly byHand: readonly string[];
  /** Paths that pass something else after it. */
  readonly moved: readonly PathState[];
  /** What an audit shows after it and not before. */
  readonly audit: readonly StepVerdicts[];
  /** What the link comes to that is set, where it is none or cannot be told. */
  readonly lines: readonly string[];
  /** What stops meanwhile, in words; alike for all of them. */
  readonly stops: readonly string[];
}

function commandsAt(advice: Rehearsal['advice'], at: number): readonly string[] {
  return advice[at]?.temporary ?? [];
}

/** The steps in their order, with the state before the first and after each. */
export function stepLines(
  { order, start, advice, paths, verdicts, lines, disturbs, pairs: named }: Rehearsal,
  look: TextLook,
): string[] {
  if (order === undefined) return [];
  const groups: StepGroup[] = [];
  order.steps.forEach((step, at) => {
    const cost = order.costs[at] ?? start;
    const pairs = named?.after[at];
    const moved = paths?.after[at] ?? [];
    const verdict = verdicts?.[at];
    const audit = verdict === undefined ? [] : [verdict];
    const byHand = advice[at]?.noCommand ?? [];
    const told = (lines?.[at] ?? []).map(({ on, what }) => `${on} ${what}`);
    const stopped = disturbs?.[at];
    const stops = stopped === undefined ? [] : disturbanceWords(stopped);
    const last = groups.at(-1);
    if (last !== undefined && goesWith(last, step, { cost, stops, pairs }))
      groups[groups.length - 1] = {
        ...last,
        steps: [...last.steps, step],
        commands: [...last.commands, ...commandsAt(advice, at)],
        byHand: [...last.byHand, ...byHand],
        moved: [...last.moved, ...moved],
        audit: [...last.audit, ...audit],
        lines: [...last.lines, ...told],
      };
    else {
      const commands = commandsAt(advice, at);
      groups.push({
        first: at + 1,
        steps: [step],
        cost,
        pairs,
        commands,
        byHand,
        moved,
        audit,
        stops,
        lines: told,
      });
    }
  });
  return [
    ...wrap('start ', clean(stateWords(start, named?.start)), look.width).map(look.paint.quiet),
    ...groups.flatMap((group) => groupLines(group, look)),
  ];
}

function goesWith(
  { steps, cost, stops, pairs }: StepGroup,
  step: ChangeStep,
  now: Pick<StepGroup, 'cost' | 'stops' | 'pairs'>,
): boolean {
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
    compareCosts(cost, now.cost) === 0 &&
    JSON.stringify(pairs) === JSON.stringify(now.pairs) &&
    stops.join() === now.stops.join()
  );
}

function groupLines(
  { first, steps, cost, pairs, commands, byHand, moved, audit, stops, lines }: StepGroup,
  look: TextLook,
): string[] {
  const [step] = steps;
  if (step === undefined) return [];
  const number = steps.length === 1 ? `${first}` : `${first}-${first + steps.length - 1}`;
  const ports = steps.map(({ port, node }) => port ?? node).join(', ');
  const words = `${ports}: ${stepWords(step)}`;
  const bad = cost.pathsApart + cost.pathsCut > 0;
  const after = wrap('      then ', clean(stateWords(cost, pairs)), look.width);
  return [
    ...wrap(padEnd(number, 6), clean(words), look.width).map(look.paint.strong),
    ...stops.flatMap((stop) =>
      wrap('      meanwhile ', clean(stop), look.width).map(look.paint.unknown),
    ),
    // Whole on its line, to be copied; what is not safe to type is no command.
    ...commands.map((command) => `      type ${clean(command)}`),
    ...byHand.flatMap((why) => wrap('      by hand ', clean(why), look.width)),
    ...after.map(bad ? look.paint.wrong : look.paint.quiet),
    ...lines.flatMap((line) => wrap('        ', clean(line), look.width).map(look.paint.unknown)),
    ...pathLines(moved, look),
    ...auditWords(audit).flatMap((text) =>
      wrap('        audit: ', clean(text), look.width).map(look.paint.quiet),
    ),
  ];
}

/** Of a path that several steps of a group move, the last state. */
function pathLines(moved: readonly PathState[], look: TextLook): string[] {
  const last = [...new Map(moved.map((path) => [path.id, path])).values()];
  const more = last.length - pathsShownMax;
  return [
    ...last.slice(0, pathsShownMax).map(pathStateWords),
    ...(more > 0 ? [`${more} more paths pass something else`] : []),
  ].flatMap((words) => wrap('        ', clean(words), look.width).map(look.paint.quiet));
}
