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
  const values = new Set<number>();
  let physical = 0;
  for (const { facts } of node.ports.values()) {
    if (facts.mtuBytes === undefined || !isPhysical(facts)) continue;
    physical += 1;
    values.add(facts.mtuBytes);
    if (values.size > 1 || facts.mtuBytes > standardPacketBytes) return undefined;
  }
  const [value] = values;
  if (physical < 2 || value === undefined) return undefined;
  return gapOf(
    'doubtful',
    `all ${physical} physical ports say ${value}; some agents say that while larger frames pass: set believe: [mtu] if it is true, or run a fit`,
    `mtu of ${node.declared.name}`,
  );
}
