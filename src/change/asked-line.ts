import type { FactValue } from '../facts/entry.ts';
import type { AskedLine, ChangeStep, StepSetting } from './types.ts';

/** What a setting asks of speed, duplex and negotiation; undefined: it is none of them. */
export function lineOf(setting: StepSetting, to: FactValue): AskedLine | undefined {
  if (setting === 'speed' && typeof to === 'number') return { speedMbps: to };
  if (setting === 'duplex' && (to === 'full' || to === 'half')) return { duplex: to };
  return setting === 'auto-negotiation' && typeof to === 'boolean' ? { negotiates: to } : undefined;
}

/**
 * Steps in which what is set of speed, duplex and negotiation of one port is one step: one command
 * sets them, and between them lie states that no port is ever in.
 */
export function withLinesTogether(steps: readonly ChangeStep[]): readonly ChangeStep[] {
  const lines = new Map<string, ChangeStep[]>();
  for (const step of steps) {
    if (step.line === undefined || step.port === undefined) continue;
    lines.set(step.port, [...(lines.get(step.port) ?? []), step]);
  }
  return steps.flatMap((step) => {
    const parts = step.line === undefined ? [] : (lines.get(step.port ?? '') ?? []);
    if (parts.length < 2) return [step];
    return parts[0] === step ? [together(step, parts)] : [];
  });
}

function together(first: ChangeStep, parts: readonly ChangeStep[]): ChangeStep {
  const { from: _, ...rest } = first;
  const known = parts.every(({ from }) => from !== undefined);
  const line: AskedLine = Object.assign({}, ...parts.map((part) => part.line));
  return {
    ...rest,
    id: `link-mode ${first.port ?? first.node}`,
    setting: 'link-mode',
    ...(known ? { from: parts.map((part) => partWords(part, part.from)).join(', ') } : {}),
    to: parts.map((part) => partWords(part, part.to)).join(', '),
    line,
  };
}

function partWords({ setting }: ChangeStep, value: FactValue | undefined): string {
  if (setting === 'auto-negotiation') return `negotiation ${value === true ? 'on' : 'off'}`;
  return setting === 'speed' ? `${String(value)} Mb/s` : `${String(value)} duplex`;
}

/** A step as one for each fact that it sets: several for what is set of a line together. */
export function lineParts(step: ChangeStep): readonly ChangeStep[] {
  if (step.setting !== 'link-mode' || step.line === undefined) return [step];
  const { speedMbps, duplex, negotiates } = step.line;
  const { from: _, ...rest } = step;
  const part = (setting: StepSetting, to: FactValue | undefined) =>
    to === undefined ? [] : [{ ...rest, setting, to }];
  return [
    ...part('speed', speedMbps),
    ...part('duplex', duplex),
    ...part('auto-negotiation', negotiates),
  ];
}
