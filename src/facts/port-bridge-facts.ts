import type { FactEntry } from './entry.ts';

/** What a node says of a port's place in its bridge and in an aggregate. */
export const portBridgeFacts = {
  untaggedVlan: {
    type: 'number',
    origin: 'read',
    meaning: 'VLAN that untagged frames arriving here belong to (PVID)',
    absentWhen: 'the node knows no VLANs, or does not say',
    sources: ['Q-BRIDGE-MIB dot1qPvid', 'bridge vlan PVID'],
  },
  untaggedVlans: {
    type: 'numbers',
    origin: 'read',
    meaning: 'VLANs that leave here without a tag, in order',
    absentWhen: 'the node knows no VLANs, or does not say',
    sources: ['Q-BRIDGE-MIB dot1qVlanCurrentUntaggedPorts', 'bridge vlan Egress Untagged'],
  },
  taggedVlans: {
    type: 'numbers',
    origin: 'read',
    meaning: 'VLANs that leave here with a tag, in order',
    absentWhen: 'the node knows no VLANs, or does not say',
    sources: ['Q-BRIDGE-MIB dot1qVlanCurrentEgressPorts', 'bridge vlan'],
  },
  spanningTree: {
    type: 'text',
    origin: 'read',
    meaning:
      'State in the spanning tree: `disabled`, `blocking`, `listening`, `learning`, `forwarding` or `broken`',
    absentWhen: 'no port of a bridge, or the node does not say',
    sources: [
      'BRIDGE-MIB dot1dStpPortState',
      'ip -d link info_slave_data state',
      '/sys/class/net/*/brport/state',
      'ifconfig member state',
    ],
  },
  aggregate: {
    type: 'text',
    origin: 'read',
    meaning: 'Name of the aggregate (bond) that this port is a member of',
    absentWhen: 'member of none, or the node does not say',
    sources: ['ip link master', 'ifconfig laggport', 'IEEE8023-LAG-MIB dot3adAggPortAttachedAggID'],
  },
  aggregateMode: {
    type: 'text',
    origin: 'read',
    meaning: 'Of an aggregate: how it shares and watches its members, `802.3ad` for LACP',
    absentWhen: 'no aggregate, or the node does not say',
    sources: ['ip -d link info_data mode', '/sys/class/net/*/bonding/mode', 'ifconfig laggproto'],
  },
  aggregatorId: {
    type: 'number',
    origin: 'read',
    varies: 'run',
    meaning: 'Of a member: number of the aggregator that it is attached to',
    absentWhen: 'no LACP, or the node does not say',
    sources: ['ip -d link ad_aggregator_id', 'IEEE8023-LAG-MIB dot3adAggPortAttachedAggID'],
  },
  lacpActor: lacp('this port'),
  lacpPartner: lacp('the partner'),
  lacpPartnerSystem: {
    type: 'text',
    origin: 'read',
    meaning: 'Of a member: MAC address of the system that answers it, lower case with colons',
    absentWhen: 'no LACP, nobody answers, or the node does not say',
    sources: [
      'IEEE8023-LAG-MIB dot3adAggPortPartnerOperSystemID',
      'ip -d link ad_info partner_mac',
      '/proc/net/bonding',
      'ifconfig -v lag id',
    ],
  },
} as const satisfies Record<string, FactEntry>;

function lacp(whose: string) {
  return {
    type: 'texts',
    origin: 'read',
    meaning: `Of a member: LACP state of ${whose}, those of \`activity\`, \`timeout\`, \`aggregation\`, \`synchronization\`, \`collecting\`, \`distributing\`, \`defaulted\`, \`expired\` that are set (IEEE 802.1AX 6.4.2.3)`,
    absentWhen: 'no LACP, or the node does not say',
    sources: [
      'ip -d link ad_actor_oper_port_state, ad_partner_oper_port_state',
      'IEEE8023-LAG-MIB dot3adAggPortActorOperState, dot3adAggPortPartnerOperState',
      'ifconfig laggport flags',
    ],
  } as const;
}
