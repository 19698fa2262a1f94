import { portId, type SiteIndex } from '../site/site-index.ts';
import { follows } from './layered-mtus.ts';
import type { ChangeRemark, ChangeStep } from './types.ts';

/**
 * Bridges of hosts that are taken to follow a member that a step sets, and that no step sets
 * themselves. Linux has them follow until their own MTU is set by hand, which no reading tells (seen
 * in the lab); of other systems it is not known whether they do.
 */
export function bridgeRemarks(index: SiteIndex, steps: readonly ChangeStep[]): ChangeRemark[] {
  const sized = steps.filter(({ setting }) => setting === 'mtu');
  const set = new Set(sized.map(({ node, portName }) => `${node}:${portName}`));
  const found = new Map<string, ChangeRemark>();
  for (const step of sized) {
    for (const [name, remark] of followers(index, step))
      if (!set.has(`${step.node}:${name}`) && !found.has(remark.on)) found.set(remark.on, remark);
  }
  return [...found.values()];
}

function followers(index: SiteIndex, { node, portName = '' }: ChangeStep) {
  const view = index.nodes.get(node);
  if (view === undefined || view.forwards) return [];
  const mtuOf = (name: string) => view.ports.get(name)?.facts.mtuBytes;
  const linux = view.survey?.facts.systemKind === 'linux';
  return (view.uppers.get(portName) ?? []).flatMap((name): [string, ChangeRemark][] => {
    const { kind, mtuBytes, lowerPorts = [] } = view.ports.get(name)?.facts ?? {};
    if (kind !== 'bridge' || !follows(mtuBytes, lowerPorts.map(mtuOf))) return [];
    const on = portId(view, name);
    const taken = `is taken to follow ${portId(view, portName)}, as a bridge of Linux does`;
    const remark: ChangeRemark = linux
      ? {
          kind: 'caution',
          on,
          what: `${taken} until its own MTU is set by hand; whether it was is not shown anywhere`,
          remedy: 'look at it right after that step, and set it where it did not follow',
        }
      : {
          kind: 'unknown',
          on,
          what: `${taken}; whether it does on this system is not known`,
          remedy: 'look at it right after that step',
        };
    return [[name, remark]];
  });
}
