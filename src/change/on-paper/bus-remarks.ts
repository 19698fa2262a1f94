import { busArithmetic } from '../../ethernet/bus-arithmetic.ts';
import { busFeeds } from '../../ethernet/host-bus.ts';
import { busFromText } from '../../ethernet/host-bus-text.ts';
import type {
  DeclaredLink,
  DeclaredNode,
  DeclaredPort,
  Intent,
  LinkEnd,
} from '../../intent/types.ts';
import type { ChangeRemark } from '../types.ts';
import { impossible, unknown } from './remark.ts';

/** Whether the bus that is declared of a port feeds the speed that is declared of its link. */
export function busRemarks({ nodes, links }: Intent): ChangeRemark[] {
  const byName = new Map(nodes.map((node) => [node.name, node]));
  return links.flatMap((link) =>
    link.ends.flatMap((end) => {
      const port = portAt(byName.get(end.node), end);
      return port === undefined ? [] : fed(`${end.node}:${end.port}`, port, link);
    }),
  );
}

/** A link may name a port by its alias or by the node's own name. */
function portAt(node: DeclaredNode | undefined, { port }: LinkEnd): DeclaredPort | undefined {
  const ports = node?.ports ?? [];
  return ports.find(({ alias }) => alias === port) ?? ports.find(({ name }) => name === port);
}

function fed(on: string, { busText }: DeclaredPort, { speedMbps }: DeclaredLink): ChangeRemark[] {
  const bus = busText === undefined ? undefined : busFromText(busText);
  if (bus === undefined || speedMbps === undefined) return [];
  const { feeds, words } = busFeeds(bus, speedMbps);
  if (feeds === true) return [];
  const why = `${words} (${busArithmetic(bus)})`;
  const remedy = 'put the adapter into a faster slot or port, or declare a lower speed';
  return feeds === 'tight'
    ? [unknown(on, `may or may not carry the declared ${speedMbps} Mb/s: ${why}`, remedy)]
    : [impossible(on, `cannot carry the declared ${speedMbps} Mb/s: ${why}`, remedy)];
}
