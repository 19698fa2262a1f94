import { portRef, type SiteIndex } from '../site/site-index.ts';
import { adviceFor } from './advice/advice-for.ts';
import type { AdviceContext, StepAdvice } from './advice/types.ts';
import type { ChangeStep } from './types.ts';
import { wayIn } from './way-in.ts';

/** What a person can type for each of `steps`, by what was read of its node. */
export function adviseSteps(index: SiteIndex, steps: readonly ChangeStep[]): StepAdvice[] {
  return steps.map((step) => {
    const labels = labelsOf(index, step);
    const advice = adviceFor(step, contextOf(index, step));
    return labels.length === 0 ? advice : { ...advice, labels };
  });
}

/** Labels on the run of the link at the port of a step, from that port on. */
function labelsOf(index: SiteIndex, { node, portName, cord }: ChangeStep): readonly string[] {
  const view = index.nodes.get(node);
  if (view === undefined || portName === undefined) return [];
  const [end] = portRef(index.ports, view, portName).ends;
  const run = cord?.takes?.run ?? end?.link.declared.run ?? [];
  const labels = run.flatMap(({ label }) => label ?? []);
  return end?.side === 1 ? labels.toReversed() : labels;
}

function contextOf(index: SiteIndex, { node, portName }: ChangeStep): AdviceContext {
  const view = index.nodes.get(node);
  const { systemKind, osVersion } = view?.survey?.facts ?? {};
  const port = view?.ports.get(portName ?? '');
  const lowerPorts = (port?.facts.lowerPorts ?? []).flatMap((name) => view?.ports.get(name) ?? []);
  const upperPorts = (view?.uppers.get(portName ?? '') ?? []).flatMap(
    (name) => view?.ports.get(name) ?? [],
  );
  const carriesWayIn = view && wayIn(view)?.has(portName ?? '');
  return {
    ...(systemKind === undefined ? {} : { systemKind }),
    ...(osVersion === undefined ? {} : { osVersion }),
    ...(portName === undefined ? {} : { portName }),
    ...(port === undefined ? {} : { port: port.facts }),
    lowerPorts,
    ...(port === undefined ? {} : { upperPorts }),
    ...(carriesWayIn === undefined ? {} : { carriesWayIn }),
  };
}
