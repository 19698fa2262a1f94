import { isIP } from 'node:net';
import { nodeAddresses } from './addresses.ts';
import type { NodeView } from './node-view.ts';
import { sameName } from './same-name.ts';
import { portId } from './site-index.ts';

/** A declared node that was recognised, and its port where that can be told. */
export interface Station {
  readonly node: NodeView;
  /** As of `PortRef`. */
  readonly port?: string;
}

/** Recognises declared nodes; what points to several of them points to none. */
export interface Stations {
  readonly byMac: (mac: string) => Station | undefined;
  readonly byName: (name: string) => NodeView | undefined;
  readonly byAddress: (address: string) => NodeView | undefined;
}

/** Names that many machines have, and so tell of none. */
const namesOfNobody: ReadonlySet<string> = new Set(['localhost', 'switch', 'router', 'unknown']);

/** Everything by which declared nodes can be recognised: read from them, or declared. */
export function indexStations(nodes: Iterable<NodeView>): Stations {
  const all = [...nodes];
  const macs = macIndex(all);
  const names = nameIndex(all);
  const addresses = new Map<string, Set<NodeView>>();
  for (const node of all) {
    const known = node.gap === undefined || node.onWord ? nodeAddresses(node) : [];
    for (const address of known) addTo(addresses, address, node);
  }
  return {
    byMac: (mac) => macs.get(mac),
    byName: (name) => names(name),
    byAddress: (address) => only(addresses.get(address)),
  };
}

/** Group addresses and the address of nobody stand for no station. */
export function isStationMac(mac: string): boolean {
  const first = /^([0-9a-f]{2})(?::[0-9a-f]{2}){5}$/.exec(mac)?.[1];
  if (first === undefined || mac === '00:00:00:00:00:00') return false;
  return (Number.parseInt(first, 16) & 1) === 0;
}

function macIndex(nodes: readonly NodeView[]): ReadonlyMap<string, Station> {
  const holders = new Map<string, Set<NodeView>>();
  const portOf = new Map<string, string | undefined>();
  for (const node of nodes) {
    for (const [mac, ports] of macsOf(node)) {
      if (!isStationMac(mac)) continue;
      addTo(holders, mac, node);
      const [port, more] = ports;
      portOf.set(mac, more === undefined ? port : undefined);
    }
  }
  const found = new Map<string, Station>();
  for (const [mac, of] of holders) {
    const node = only(of);
    const port = portOf.get(mac);
    if (node !== undefined) found.set(mac, port === undefined ? { node } : { node, port });
  }
  return found;
}

/**
 * Ports of a node by MAC address. What is built on other ports shares the address of the hardware,
 * so that the hardware is meant; members of a bond share one among them, and then none is.
 */
function macsOf(node: NodeView): ReadonlyMap<string, ReadonlySet<string>> {
  const found = new Map<string, Set<string>>();
  const built = new Map<string, Set<string>>();
  for (const { name, facts } of node.ports.values()) {
    const into = (facts.lowerPorts ?? []).length === 0 ? found : built;
    for (const mac of [facts.macAddress, facts.permanentMacAddress])
      if (mac !== undefined) addTo(into, mac, portId(node, name));
  }
  const declared = node.gap === undefined || node.onWord ? node.declared.ports : [];
  for (const { alias, mac } of declared)
    if (mac !== undefined && !found.has(mac)) addTo(found, mac, portId(node, alias));
  for (const [mac, ports] of built) if (!found.has(mac)) found.set(mac, ports);
  return found;
}

/** The name that the intent reaches a node by counts only where it has no word of its own. */
function nameIndex(nodes: readonly NodeView[]): (name: string) => NodeView | undefined {
  const own: Known[] = [];
  const given: Known[] = [];
  for (const node of nodes) {
    const { identity, name, at = '' } = node.declared;
    const read = node.gap === undefined ? node.survey?.facts.systemName : undefined;
    const said = [identity.systemName, read].filter(
      (each) => each !== undefined && isTelling(each),
    );
    for (const each of said) own.push({ name: each ?? '', node });
    const reached = said.length > 0 ? [] : [name, at];
    for (const each of reached)
      if (each !== '' && isIP(each) === 0) given.push({ name: each, node });
  }
  const [owned, reached] = [byFirstLabel(own), byFirstLabel(given)];
  return (name) => {
    if (!isTelling(name)) return undefined;
    const said = sameNamed(owned, name);
    return only(said.size > 0 ? said : sameNamed(reached, name));
  };
}

function isTelling(name: string): boolean {
  return !namesOfNobody.has(name.toLowerCase());
}

interface Known {
  readonly name: string;
  readonly node: NodeView;
}

function byFirstLabel(known: readonly Known[]): ReadonlyMap<string, readonly Known[]> {
  const lists = new Map<string, Known[]>();
  for (const each of known) {
    const list = lists.get(firstLabel(each.name));
    if (list === undefined) lists.set(firstLabel(each.name), [each]);
    else list.push(each);
  }
  return lists;
}

function sameNamed(known: ReadonlyMap<string, readonly Known[]>, name: string): Set<NodeView> {
  const near = known.get(firstLabel(name)) ?? [];
  return new Set(near.filter((each) => sameName(each.name, name)).map(({ node }) => node));
}

function firstLabel(name: string): string {
  return (name.split('.', 1)[0] ?? '').toLowerCase();
}

function addTo<V>(sets: Map<string, Set<V>>, key: string, value: V): void {
  const set = sets.get(key);
  if (set === undefined) sets.set(key, new Set([value]));
  else set.add(value);
}

function only<V>(set: ReadonlySet<V> | undefined): V | undefined {
  const [one, more] = set ?? [];
  return more === undefined ? one : undefined;
}
