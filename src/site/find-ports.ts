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

/** What is known of a node when its ports are looked for. */
export interface PortSearch {
  readonly ports: ReadonlyMap<string, PortSurvey>;
  /** Port names that links of the intent write for this node. */
  readonly linked: readonly string[];
  /** The system has a name of its own for each hardware port, beside the device name. */
  readonly hardwareNames: boolean;
}

/**
 * Finds the ports that the owner gave names to. The MAC address goes before the name: adapters
 * that are plugged in again get new names. The name of a hardware port, which stays, finds it too.
 */
export function findAliases(
  node: DeclaredNode,
  { ports, linked, hardwareNames }: PortSearch,
): Aliases {
  const found = new Map<string, PortSurvey>();
  const ofName = new Map<string, string>();
  const byMac = node.ports.some((port) => port.mac !== undefined)
    ? portsByMac(ports.values())
    : new Map<string, PortSurvey[]>();
  const named = (name: string) =>
    ports.get(name) ?? (hardwareNames ? portByAlias(ports, name) : undefined);
  for (const declared of node.ports) {
    const name = declared.name ?? declared.alias;
    const port = choose(named(name), declared.mac, byMac.get(declared.mac ?? ''));
    if (port !== undefined) found.set(declared.alias, port);
    ofName.set(port?.name ?? name, declared.alias);
  }
  const declared = new Map(node.ports.map((port) => [port.alias, port]));
  for (const written of linked) {
    const port = declared.has(written) || ports.has(written) ? undefined : named(written);
    if (port === undefined) continue;
    const alias = ofName.get(port.name) ?? written;
    ofName.set(written, alias).set(port.name, alias);
    found.set(alias, port);
  }
  return { found, ofName, declared };
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
 * The one port that the system itself calls so beside its device name, as macOS does with the names
 * of its hardware ports, which stay when an adapter comes back under another device name.
 * Undefined where none or several are called so.
 */
function portByAlias(
  ports: ReadonlyMap<string, PortSurvey>,
  written: string,
): PortSurvey | undefined {
  const [port, other] = [...ports.values()].filter(({ facts }) => facts.alias === written);
  return other === undefined ? port : undefined;
}

/**
 * VLANs, bridges and bonds share the address of what they are built on, and so do the members of a
 * bond: of several holders the named one is meant, unless it is known to have been built with
 * another address; else the one that was built with it, else the hardware.
 */
function choose(
  named: PortSurvey | undefined,
  mac: string | undefined,
  holders: readonly PortSurvey[] = [],
): PortSurvey | undefined {
  const builtOtherwise = (port: PortSurvey) =>
    port.facts.permanentMacAddress !== undefined && port.facts.permanentMacAddress !== mac;
  const own = holders.filter((port) => !builtOtherwise(port));
  if (named !== undefined && own.includes(named)) return named;
  const built = own.find((port) => port.facts.permanentMacAddress !== undefined);
  const candidates = own.length > 0 ? own : holders;
  const bare = candidates.filter((port) => (port.facts.lowerPorts ?? []).length === 0);
  const hardware = bare.find((port) => port.facts.kind === 'physical') ?? bare[0];
  return built ?? hardware ?? candidates[0] ?? named;
}
