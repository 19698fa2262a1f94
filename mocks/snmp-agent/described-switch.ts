/** A switch as plain data: what its simulated agent serves. */
export interface DescribedSwitch {
  readonly sysName: string;
  readonly sysDescr: string;
  readonly sysObjectId: string;
  /** Hexadecimal, 5 to 32 octets (RFC 3411). */
  readonly engineId: string;
  readonly engineBoots?: number;
  readonly upSeconds: number;
  readonly ports: readonly DescribedSwitchPort[];
  /** What it has heard by LLDP; absent: it does not speak LLDP. */
  readonly lldp?: DescribedLldp;
  /** Stations that its bridge knows, by ifIndex. */
  readonly stations?: readonly DescribedStation[];
  /** Absent: it knows no VLANs, and its stations are those of all VLANs together. */
  readonly vlans?: readonly DescribedVlan[];
  /** Which table has the VLANs; absent: `current`. */
  readonly vlanTable?: 'current' | 'static';
  /** Parts and sensors. */
  readonly parts?: readonly DescribedPart[];
}

/** LLDP of a switch. */
export interface DescribedLldp {
  readonly version: 1 | 2;
  /** What `LocalPortNum` of version 1 is; absent: the bridge port. */
  readonly numbers?: 'bridge-port' | 'ifIndex' | 'own';
  readonly neighbours: readonly DescribedNeighbour[];
}

/** A neighbour as LLDP has it. Identifiers: subtype, and hexadecimal octets or text. */
export interface DescribedNeighbour {
  /** Port on which it is heard. */
  readonly ifIndex: number;
  readonly chassis: readonly [subtype: number, id: Buffer | string];
  readonly port: readonly [subtype: number, id: Buffer | string];
  readonly portText?: string;
  readonly systemName?: string;
  readonly systemText?: string;
  /** Bits of LldpSystemCapabilitiesMap. */
  readonly capabilities?: readonly number[];
  /** IPv4. */
  readonly addresses?: readonly string[];
  /** dot3MauType in use. */
  readonly mau?: number;
  readonly negotiates?: boolean;
  /** The two octets of the advertised capability. */
  readonly offers?: Buffer;
  readonly frameMaxBytes?: number;
  readonly untaggedVlan?: number;
}

export interface DescribedStation {
  readonly mac: string;
  readonly ifIndex: number;
  readonly vlan?: number;
  /** dot1dTpFdbStatus; absent: learned(3). */
  readonly status?: number;
}

/** A VLAN with its members by ifIndex. */
export interface DescribedVlan {
  readonly vlan: number;
  readonly tagged: readonly number[];
  readonly untagged: readonly number[];
  /** Absent: as the VLAN. */
  readonly filter?: number;
}

/** One row of entPhysicalTable, with its sensor where it is one. */
export interface DescribedPart {
  readonly part: number;
  readonly holder: number;
  readonly class: number;
  readonly name: string;
  readonly descr?: string;
  /** ifIndex of its alias. */
  readonly alias?: number;
  readonly sensor?: {
    readonly type: number;
    readonly scale: number;
    readonly precision: number;
    readonly value: number;
    readonly status?: number;
    readonly units?: string;
  };
}

/** One row of the switch's tables. */
export interface DescribedSwitchPort {
  readonly ifIndex: number;
  /** ifName; empty: none. */
  readonly name: string;
  /** ifDescr. */
  readonly descr: string;
  readonly alias?: string;
  /** IANAifType number. */
  readonly type: number;
  readonly mtu: number;
  readonly speedMbps: number;
  readonly admin: 'up' | 'down';
  /** `unknown` as ifOperStatus unknown(4). */
  readonly oper: 'up' | 'down' | 'unknown';
  /** Absent: no row in EtherLike-MIB. */
  readonly duplex?: 'full' | 'half' | 'unknown';
  /** With colons; empty: none. */
  readonly mac: string;
  /** ifConnectorPresent; absent: the agent does not report it. */
  readonly connector?: boolean;
  /** ifIndex of the ports that this one is built on. */
  readonly lower?: readonly number[];
  readonly counters?: SwitchCounters;
  /** dot3PauseOperMode; absent: no row in dot3PauseTable. */
  readonly pause?: 'disabled' | 'xmit' | 'rcv' | 'both';
  /** Its medium; absent: no row in MAU-MIB. Several: a socket and a cage that share the port. */
  readonly mau?: DescribedMau | readonly DescribedMau[];
  /** Its number in the bridge; absent: it is no port of the bridge. */
  readonly bridgePort?: number;
  /** dot1dStpPortState. */
  readonly spanningTree?: number;
  /** dot1qPvid. */
  readonly pvid?: number;
  readonly member?: DescribedMember;
  /** 64-bit twins of the error counters; absent: none are served. */
  readonly wide?: { readonly rxCrcErrors: number | string };
  /** Counters of RMON; absent: no row in etherStatsTable. */
  readonly rmon?: {
    readonly oversize: number;
    readonly fragments: number;
    readonly jabbers: number;
  };
  /** dot1dBasePortMtuExceededDiscards. */
  readonly forwardTooLong?: number;
}

/** A port as a member of an aggregate; states as the octets that the agent sends. */
export interface DescribedMember {
  readonly aggregator: number;
  readonly actor: number;
  readonly partner: number;
  readonly partnerSystem: string;
}

/** A medium of a port, as MAU-MIB has it. */
export interface DescribedMau {
  /** Number under dot3MauType; 0: not known. */
  readonly type: number;
  /** JackType of its one jack; absent: the agent shows none. */
  readonly jack?: number;
  /** Absent: it cannot negotiate, and has no row in ifMauAutoNegTable. */
  readonly negotiation?: {
    readonly enabled: boolean;
    /** The partner's signals were detected. */
    readonly partner: boolean;
    /** Bits of IANAifMauAutoNegCapBits. */
    readonly can: readonly number[];
    readonly offers: readonly number[];
    readonly hears: readonly number[];
  };
}

/** Counters of a port; one that is absent is served as 0. */
export interface SwitchCounters {
  /** 64 bits: a number, or digits where a number is too coarse. */
  readonly rxOctets?: number | string;
  readonly txOctets?: number | string;
  readonly rxFrames?: number;
  readonly txFrames?: number;
  readonly rxErrors?: number;
  readonly txErrors?: number;
  readonly rxDropped?: number;
  readonly txDropped?: number;
  readonly rxCrcErrors?: number;
  readonly rxAlignmentErrors?: number;
  readonly rxTooLong?: number;
  readonly rxSymbolErrors?: number;
  readonly lateCollisions?: number;
  readonly rxPauseFrames?: number;
  readonly txPauseFrames?: number;
}
