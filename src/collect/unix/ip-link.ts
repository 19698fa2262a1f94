/** One network interface as `ip link` tells it, from JSON or text. */
export interface IpLink {
  /** As printed. Untrusted. */
  readonly name: string;
  readonly ifIndex?: number;
  readonly flags: readonly string[];
  readonly mtuBytes?: number;
  /** Absent where not printed. */
  readonly mtuMinBytes?: number;
  /** 0 where the driver names no limit; absent where not printed. */
  readonly mtuMaxBytes?: number;
  /** `ether`, `loopback`, `none`, `ppp`, ... */
  readonly linkType?: string;
  readonly macAddress?: string;
  readonly permanentMacAddress?: string;
  readonly alias?: string;
  /** `vlan`, `bond`, `bridge`, `veth`, ...; absent for real ports and where not printed. */
  readonly infoKind?: string;
  readonly vlanId?: number;
  /** The interface that this one stands on, in this network namespace. */
  readonly lower?: string;
  /** The bridge or bond that this one is a member of. */
  readonly master?: string;
  /** Mode of a bond, `802.3ad`; absent for other kinds and where not printed. */
  readonly bondMode?: string;
  /** Of a bond with LACP: the aggregator in use, and the MAC address of who answers there. */
  readonly bondPartner?: { readonly aggregatorId: number; readonly mac: string };
  /** Of a bridge: whether it tells VLANs apart; absent where not printed. */
  readonly vlanFiltering?: boolean;
  /** Of a member of a bridge: state in the spanning tree, `forwarding`. */
  readonly bridgeState?: string;
  /** Of a member of a bond with LACP. */
  readonly aggregatorId?: number;
  /** LACP states of a member, one octet each. */
  readonly lacpActor?: number;
  readonly lacpPartner?: number;
}
