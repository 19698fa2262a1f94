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
}

/** A medium of a port, as MAU-MIB has it. */
export interface DescribedMau {
  /** Number under dot3MauType; 0: not known. */
  readonly type: number;
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
