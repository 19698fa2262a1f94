import type { ChangeStep } from '../types.ts';
import { stepCautions } from './cautions.ts';
import { freebsdAdvice } from './freebsd.ts';
import { linuxAdvice } from './linux.ts';
import { macosAdvice } from './macos.ts';
import { checkWords, hostKinds, stepWords, undoWords, whereOf } from './step-words.ts';
import type { AdviceContext, StepAdvice, SystemAdvice } from './types.ts';
import { windowsAdvice } from './windows.ts';

type Advise = (step: ChangeStep, context: AdviceContext) => SystemAdvice | undefined;

/** Who knows the commands of each kind of system; the rest is words. */
const systems: ReadonlyMap<string, Advise> = new Map([
  ['linux', linuxAdvice],
  ['macos', macosAdvice],
  ['freebsd', freebsdAdvice],
  ['windows', windowsAdvice],
]);

const byCommand: ReadonlySet<string> = new Set([
  'mtu',
  'speed',
  'duplex',
  'auto-negotiation',
  'link-mode',
]);

const wordsOnly: SystemAdvice = { temporary: [], persistent: [], undo: [], cautions: [] };

/**
 * What a person can type for `step`, how to go back and what to look at. Commands only for hosts
 * whose system is known and whose port has a name that no shell can read as anything else; words
 * for all the rest. Nothing of it is ever run by hopgauge.
 */
export function adviceFor(step: ChangeStep, context: AdviceContext): StepAdvice {
  const advise = systems.get(context.systemKind ?? '');
  const asked = step.port !== undefined && byCommand.has(step.setting);
  const known = asked ? advise?.(step, context) : undefined;
  const { cautions, ...commands } = known ?? wordsOnly;
  return {
    ...commands,
    words: stepWords(step, context),
    undoWords: undoWords(step, context),
    check: checkWords(step),
    cautions: [
      ...stepCautions(step, context),
      ...cautions,
      ...(asked && known === undefined ? noCommand(step, context) : []),
    ],
  };
}

function noCommand(step: ChangeStep, context: AdviceContext): string[] {
  if (!hostKinds.has(context.systemKind ?? '')) return [];
  return [
    `no command is given for ${whereOf(step, context)}: its own name, or what it runs at and can do, was not read or is not safe to type`,
  ];
}
