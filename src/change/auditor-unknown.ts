import { byName } from '../facts/order.ts';
import type { Intent } from '../intent/types.ts';
import { auditorOf } from './auditor-reach.ts';
import type { ChangeRemark, ChangeStep } from './types.ts';

/** Where nobody says on which machine hopgauge runs, what a step on a switch cuts it off from is not known. */
export function auditorUnknown(
  intent: Intent,
  steps: readonly ChangeStep[],
): readonly ChangeRemark[] {
  if (auditorOf(intent) !== undefined) return [];
  const switches = new Set(
    intent.nodes.flatMap(({ name, role, unread }) => (role === 'switch' || unread ? [name] : [])),
  );
  const disturbed = steps.filter(
    ({ node, disturbs }) => disturbs !== 'nothing' && switches.has(node),
  );
  if (disturbed.length === 0) return [];
  return [
    {
      kind: 'caution',
      on: [...new Set(disturbed.map(({ node }) => node))].sort(byName).join(', '),
      what: 'may be on your own way to other nodes: on which machine hopgauge runs is not declared',
      remedy: 'declare that machine as a node with access: local, or have the consoles at hand',
    },
  ];
}
