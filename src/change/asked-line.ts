import type { FactValue } from '../facts/entry.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { AskedLine, ChangeStep, StepSetting } from './types.ts';

/** What a setting asks of speed, duplex and negotiation; undefined: it is none of them. */
export function lineOf(setting: StepSetting, to: FactValue): AskedLine | undefined {
  if (setting === 'speed' && typeof to === 'number') return { speedMbps: to };
  if (setting === 'duplex' && (to === 'full' || to === 'half')) return { duplex: to };
  return setting === 'auto-negotiation' && typeof to === 'boolean' ? { negotiates: to } : undefined;
}

/**
 * Steps without what is so already. What is set of a line is kept whole where any of it is another:
 * without negotiation one command says all of it, whatever of it was so.
 */
export function movingSteps(steps: readonly ChangeStep[]): readonly ChangeStep[] {
  const moved = new Set(
    steps.flatMap(({ line, port, from, to }) =>
      line === undefined || port === undefined || from === to ? [] : [port],
    ),
  );
  return steps.filter(
    ({ line, port, from, to }) => from !== to || (line !== undefined && moved.has(port ?? '')),
  );
}

/**
 * Steps in which what is set of speed, duplex and negotiation of one port is one step: one command
 * sets them, and between them lie states that no port is ever in. `factsOf` is what was read of the
 * port of a step: without negotiation its words name also what stays as it is.
 */
export function withLinesTogether(
  steps: readonly ChangeStep[],
  factsOf: (step: ChangeStep) => PortReadFacts | undefined,
): readonly ChangeStep[] {
  const lines = new Map<string, ChangeStep[]>();
  for (const step of steps) {
    if (step.line === undefined || step.port === undefined) continue;
    lines.set(step.port, [...(lines.get(step.port) ?? []), step]);
  }
  return steps.flatMap((step) => {
    const parts = step.line === undefined ? [] : (lines.get(step.port ?? '') ?? []);
    if (parts.length < 2) return [step];
    return parts[0] === step ? [together(step, parts, factsOf(step) ?? {})] : [];
  });
}

function together(
  first: ChangeStep,
  parts: readonly ChangeStep[],
  facts: PortReadFacts,
): ChangeStep {
  const { from: _, ...rest } = first;
  const known = parts.every(({ from }) => from !== undefined);
  const line: AskedLine = Object.assign({}, ...parts.map((part) => part.line));
  const stays = line.negotiates === false ? stayingWords(line, facts) : [];
  const words = (of: (part: ChangeStep) => FactValue | undefined) =>
    [...parts.map((part) => partWords(part, of(part))), ...stays].join(', ');
  return {
    ...rest,
    id: `link-mode ${first.port ?? first.node}`,
    setting: 'link-mode',
    ...(known ? { from: words(({ from }) => from) } : {}),
    to: words(({ to }) => to),
    line,
  };
}

/** Speed and duplex that nothing asks for another of. */
function stayingWords(line: AskedLine, { speedMbps, duplex }: PortReadFacts): string[] {
  return [
    ...(line.speedMbps === undefined && speedMbps !== undefined ? [`${speedMbps} Mb/s`] : []),
    ...(line.duplex === undefined && duplex !== undefined ? [`${duplex} duplex`] : []),
  ];
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
