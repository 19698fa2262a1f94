import { nodeAddresses } from './addresses.ts';
import type { NodeView } from './node-view.ts';
import { lookupRoute } from './route-lookup.ts';

/** How a node sends to one address of another. */
export interface ChosenRoute {
  readonly to: string;
  /** Port name; absent when there is no route. */
  readonly device?: string;
  readonly mtuBytes?: number;
  readonly source: string;
  /** The node's words when it has no route. */
  readonly words?: string;
}

/**
 * The route of `sender` to `receiver`. `preferred` are the receiver's addresses on the declared
 * way: where there are any, the route to another address says nothing of the path. Undefined when
 * no route to such an address was asked for or can be looked up.
 */
export function chooseRoute(
  sender: NodeView,
  receiver: NodeView,
  preferred: readonly string[],
): ChosenRoute | undefined {
  if (sender.gap !== undefined) return undefined;
  const targets = preferred.length > 0 ? preferred : nodeAddresses(receiver);
  for (const to of targets) {
    const asked = sender.survey?.routes.find((route) => route.to === to);
    if (asked === undefined) continue;
    const { device, mtuBytes, words } = asked;
    return {
      to,
      ...(device === undefined ? {} : { device }),
      ...(mtuBytes === undefined ? {} : { mtuBytes }),
      ...(words === undefined ? {} : { words }),
      source: 'route to the receiver, asked of the sender',
    };
  }
  return fromTable(sender, targets);
}

function fromTable(sender: NodeView, targets: readonly string[]): ChosenRoute | undefined {
  const table = sender.survey?.routeTable;
  if (table === undefined) return undefined;
  for (const to of targets) {
    const row = lookupRoute(table, to);
    if (row === undefined) continue;
    const mtu = row.mtuBytes === undefined ? {} : { mtuBytes: row.mtuBytes };
    return { to, device: row.device, ...mtu, source: `routing table, ${row.prefix}` };
  }
  return undefined;
}
