import type { PortSurvey } from '../facts/survey.ts';
import type { DeclaredNode, DeclaredPort } from '../intent/types.ts';

/** What the aliases of one node mean. */
export interface Aliases {
  /** The port that was read, by alias; no entry: none was found. */
  readonly found: ReadonlyMap<string, PortSurvey>;
  readonly declared: ReadonlyMap<string, DeclaredPort>;
  /** Alias by the node's own name. */
  readonly ofName: ReadonlyMap<string, string>;
}

/**
 * Finds the ports that the owner gave names to. The MAC address goes before the name: adapters
 * that are plugged in again get new names.
 */
export function findAliases(node: DeclaredNode, ports: ReadonlyMap<string, PortSurvey>): Aliases {
  const found = new Map<string, PortSurvey>();
  const ofName = new Map<string, string>();
  const byMac = node.ports.some((port) => port.mac !== undefined)
    ? portsByMac(ports.values())
    : new Map<string, PortSurvey[]>();
  for (const declared of node.ports) {
    const name = declared.name ?? declared.alias;
    const port = choose(ports.get(name), byMac.get(declared.mac ?? ''));
    if (port !== undefined) found.set(declared.alias, port);
    ofName.set(port?.name ?? name, declared.alias);
  }
  return { found, ofName, declared: new Map(node.ports.map((port) => [port.alias, port])) };
}

function portsByMac(ports: Iterable<PortSurvey>): Map<string, PortSurvey[]> {
  const byMac = new Map<string, PortSurvey[]>();
  for (const port of ports) {
    const { macAddress, permanentMacAddress } = port.facts;
    for (const mac of new Set([macAddress, permanentMacAddress])) {
      if (mac === undefined) continue;
      const known = byMac.get(mac);
      if (known === undefined) byMac.set(mac, [port]);
      else known.push(port);
    }
  }
  return byMac;
}

/**
 * VLANs, bridges and bonds share the address of what they are built on: of several holders the
 * named one is meant, else the hardware.
 */
function choose(
  named: PortSurvey | undefined,
  holders: readonly PortSurvey[] = [],
): PortSurvey | undefined {
  if (named !== undefined && holders.includes(named)) return named;
  const bare = holders.filter((port) => (port.facts.lowerPorts ?? []).length === 0);
  return bare.find((port) => port.facts.kind === 'physical') ?? bare[0] ?? holders[0] ?? named;
}
