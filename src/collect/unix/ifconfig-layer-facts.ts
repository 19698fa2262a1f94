import { byName } from '../../facts/order.ts';
import { cleaned, found, foundOr, gap, type PortDraft, type Settled } from './draft.ts';
import type { Ifconfig } from './ifconfig-bsd.ts';
import { lacpStateOf } from './lacp-state.ts';
import { spanningTreeOf } from './spanning-tree.ts';

/** Facts of a port's place among bridges and aggregates. */
export type LayerFacts = Pick<
  PortDraft,
  | 'aggregate'
  | 'aggregateMode'
  | 'aggregatorId'
  | 'lacpActor'
  | 'lacpPartner'
  | 'lacpPartnerSystem'
  | 'spanningTree'
  | 'untaggedVlan'
  | 'untaggedVlans'
  | 'taggedVlans'
>;

const unsaid = (what: string) => gap('unsupported', `ifconfig does not print ${what}`);

/** Facts of a port of macOS or FreeBSD that stand in the blocks of what it is a member of. */
export function ifconfigLayers(port: Ifconfig, all: readonly Ifconfig[]): LayerFacts {
  return { ...aggregateFacts(port, all), ...bridgeFacts(port, all) };
}

/** Ports that this one is built on, in order. */
export function lowerPortsOf(port: Ifconfig): Settled<readonly string[]> {
  const names = [...new Set(port.lower.flatMap((name) => cleaned(name) ?? []))].sort(byName);
  return names.length === 0 ? undefined : found(names, 'ifconfig');
}

function aggregateFacts(port: Ifconfig, all: readonly Ifconfig[]) {
  const upper = all.find(({ lagMembers }) => lagMembers.some(({ name }) => name === port.name));
  const own = upper?.lagMembers.find(({ name }) => name === port.name);
  // macOS does not print the protocol, so that there LACP may be in use.
  const lacp = upper !== undefined && (upper.lagProtocol ?? 'lacp') === 'lacp';
  const source =
    upper?.lagProtocol === undefined ? 'ifconfig bond interfaces' : 'ifconfig laggport';
  const state = lacpStateOf(own?.lacpState);
  const system = own?.partnerSystem;
  return {
    aggregate: foundOr(cleaned(upper?.name), source, undefined),
    aggregateMode: foundOr(modeOf(port.lagProtocol), 'ifconfig laggproto', undefined),
    aggregatorId: lacp ? unsaid('the number of an aggregator') : undefined,
    lacpActor: lacp ? foundOr(state, 'ifconfig -v laggport state', unsaid('its state')) : undefined,
    lacpPartner: lacp ? unsaid('the state of the partner') : undefined,
    lacpPartnerSystem: lacp ? systemOf(upper?.lagProtocol, system) : undefined,
  };
}

/** Where the states are printed and no system is, nobody answers. */
function systemOf(protocol: string | undefined, system: string | undefined): Settled<string> {
  const none = protocol === undefined ? unsaid('who answers') : undefined;
  return foundOr(system, 'ifconfig -v lag id', none);
}

function modeOf(protocol: string | undefined): string | undefined {
  return protocol === 'lacp' ? '802.3ad' : protocol;
}

function bridgeFacts(port: Ifconfig, all: readonly Ifconfig[]) {
  const own = all
    .flatMap(({ bridgeMembers }) => bridgeMembers)
    .find(({ name }) => name === port.name);
  if (own === undefined) {
    const none = undefined;
    return { spanningTree: none, untaggedVlan: none, untaggedVlans: none, taggedVlans: none };
  }
  const { untaggedVlan, taggedVlans } = own;
  const filters = untaggedVlan !== undefined || taggedVlans !== undefined;
  const vlans = gap('unsupported', 'the bridge is told of no VLANs here');
  const untagged = untaggedVlan === undefined ? [] : [untaggedVlan];
  return {
    spanningTree: foundOr(
      spanningTreeOf(own.state),
      'ifconfig member state',
      gap('unsupported', 'spanning tree is off here'),
    ),
    untaggedVlan: foundOr(untaggedVlan, 'ifconfig member untagged', vlans),
    untaggedVlans: filters ? found(untagged, 'ifconfig member untagged') : vlans,
    taggedVlans: filters ? found(taggedVlans ?? [], 'ifconfig member tagged') : vlans,
  };
}
