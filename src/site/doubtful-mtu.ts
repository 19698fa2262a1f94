import { standardPacketBytes } from '../ethernet/frame-size.ts';
import type { Gap } from '../facts/gap.ts';
import type { NodeView } from './node-view.ts';
import { isPhysical } from './port-kind.ts';
import { gapOf } from './provenance.ts';

/**
 * Why the MTUs that a switch reports do not tell whether it passes more than 1500 bytes: some
 * agents report one small value for every port while large frames are switched on (common
 * practice). Undefined where they can be believed.
 */
export function doubtfulMtu(node: NodeView): Gap | undefined {
  if (!node.forwards || node.declared.believe.includes('mtu')) return undefined;
  const values = [...node.ports.values()].flatMap(({ facts }) =>
    facts.mtuBytes === undefined || !isPhysical(facts) ? [] : [facts.mtuBytes],
  );
  if (!areDoubtful(values)) return undefined;
  return gapOf(
    'doubtful',
    `all ${values.length} physical ports say ${values[0]}; some agents say that while larger frames pass: set believe: [mtu] if it is true, or run a fit`,
    `mtu of ${node.declared.name}`,
  );
}

/** Whether the MTUs of all physical ports of a switch are of the kind that tells nothing. */
export function areDoubtful(mtus: readonly number[]): boolean {
  const [value] = mtus;
  if (value === undefined || mtus.length < 2 || value > standardPacketBytes) return false;
  return mtus.every((mtu) => mtu === value);
}
