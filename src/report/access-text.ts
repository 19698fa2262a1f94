import type { Trouble } from '../facts/trouble.ts';
import { clean, padEnd, wrap } from './layout.ts';
import { paintFor } from './paint.ts';
import type { TextOptions } from './text-report.ts';

/** One step of getting in. */
export interface AccessStep {
  readonly step: string;
  readonly state: 'ok' | 'failed' | 'not tried';
  /** Present on the step that failed. */
  readonly trouble?: Trouble;
}

/** What became of one attempt to get into a node by one access. */
export interface AccessTrial {
  readonly node: string;
  readonly by: 'ssh' | 'snmp' | 'local';
  readonly at: string;
  readonly steps: readonly AccessStep[];
  /** What is weak about this way in; absent: nothing that is known. */
  readonly weak?: string;
}

const stepColumns = 10;
const widthMin = 40;
const widthMax = 120;

/** Whether every step of a trial went well. */
export function isOpen({ steps }: AccessTrial): boolean {
  return steps.every(({ state }) => state === 'ok');
}

/** Each trial with its steps: open doors in a line, the others step by step with what to do. */
export function accessText(trials: readonly AccessTrial[], options: TextOptions): string {
  const width = Math.min(widthMax, Math.max(widthMin, options.width));
  const paint = paintFor(options.colour);
  const lines = trials.flatMap((trial) => {
    const head = clean(`${trial.node}: ${trial.by} ${trial.at}`);
    const steps = trial.steps.map(({ step }) => step).join(', ');
    if (trial.steps.length === 0) return wrap('', `${head}: no door to try`, width);
    const weak = trial.weak === undefined ? [] : wrap('  ', clean(trial.weak), width);
    if (isOpen(trial) && !options.verbose) {
      return [...wrap('', `${head}: open (${steps})`, width), ...weak];
    }
    return [
      ...wrap('', `${head}: ${isOpen(trial) ? 'open' : 'not open'}`, width).map(paint.strong),
      ...trial.steps.flatMap((step) => stepLines(step, width)),
      ...weak,
    ];
  });
  const open = trials.filter(isOpen).length;
  return `${[...lines, '', `${open} of ${trials.length} doors open`].join('\n')}\n`;
}

function stepLines({ step, state, trouble }: AccessStep, width: number): string[] {
  const lead = `  ${padEnd(step, stepColumns)}`;
  if (trouble === undefined) return wrap(lead, state, width);
  return [
    ...wrap(lead, clean(`failed: ${trouble.seen}`), width),
    ...wrap(`  ${padEnd('then', stepColumns)}`, clean(trouble.remedy), width),
  ];
}
