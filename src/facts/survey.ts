import type { Gaps } from './gap.ts';
import type { NodeReadFacts } from './node-facts.ts';
import type { PortReadFacts } from './port-facts.ts';
import type { FitProof, TransferProof } from './proof.ts';
import type { Trouble } from './trouble.ts';

/** What was read of all nodes at one time. Saved as JSON; judged again, it gives the same. */
export interface Survey {
  /** Version of the saved form. */
  readonly survey: 1;
  readonly site: string;
  /** ISO 8601 UTC, with milliseconds. */
  readonly startedAt: string;
  readonly endedAt: string;
  /** In the order of their names. */
  readonly nodes: readonly NodeSurvey[];
  /** What active tests have shown, the newest of each direction; absent: none were run. */
  readonly fits?: readonly FitProof[];
  readonly transfers?: readonly TransferProof[];
}

/** One attempt at reading a node by one access. */
export interface Reading {
  readonly by: 'ssh' | 'snmp' | 'local';
  /** Address that was tried, without any secret. */
  readonly at: string;
  readonly startedAt: string;
  readonly tookMs: number;
  /** Absent when the reading succeeded. */
  readonly trouble?: Trouble;
}

/** All that was read of one node. */
export interface NodeSurvey {
  readonly node: string;
  readonly readings: readonly Reading[];
  readonly facts: NodeReadFacts;
  readonly sources: Readonly<Record<string, string>>;
  readonly gaps: Gaps;
  /** Source of each port fact unless the port says otherwise. */
  readonly portSources: Readonly<Record<string, string>>;
  /** Why a port fact is absent unless the port says otherwise. */
  readonly portGaps: Gaps;
  /** In the order of their names (numbers within names by value). */
  readonly ports: readonly PortSurvey[];
  readonly routes: readonly RouteReading[];
  /**
   * The whole routing table by destination. Absent when it was not read, or when other rules than
   * the destination decide (policy routing), so that no look-up can be trusted.
   */
  readonly routeTable?: readonly RouteRow[];
  readonly sessions: readonly SessionReading[];
  readonly mounts: readonly MountReading[];
  /**
   * Who announces itself at the ports. Absent: not read, and `gaps.neighbours` says why where it was
   * asked for. An empty list means that nobody announces itself. A gap beside the list: it may
   * lack some, or some of what they announce.
   */
  readonly neighbours?: readonly NeighbourReading[];
  /**
   * Stations by the port behind which the node has heard them. Absent: not read, and
   * `gaps.forwarding` says why where it was asked for. A gap beside the list: it may lack some.
   */
  readonly forwarding?: readonly ForwardingReading[];
  readonly disagreements: readonly Disagreement[];
}

/** One port as it was read. */
export interface PortSurvey {
  /** The node's own name: `eth4`, `Port 4`. */
  readonly name: string;
  readonly facts: PortReadFacts;
  readonly sources?: Readonly<Record<string, string>>;
  readonly gaps?: Gaps;
}

/** The answer to "by which port do you send to this address?" */
export interface RouteReading {
  readonly to: string;
  /** Port name; absent when there is no route. */
  readonly device?: string;
  readonly gateway?: string;
  /** The sender's own address on that way. */
  readonly from?: string;
  /** MTU of the route itself, in bytes; absent when it carries none. */
  readonly mtuBytes?: number;
  /** The node's words when it has no route. */
  readonly words?: string;
}

/** One row of a routing table. */
export interface RouteRow {
  /** Destination as `198.18.20.0/24`; `0.0.0.0/0` or `::/0` for the default. */
  readonly prefix: string;
  readonly device: string;
  readonly gateway?: string;
  readonly mtuBytes?: number;
  /** Of rows with one prefix the smallest is used; absent: 0. */
  readonly metric?: number;
}

/** Live TCP sessions with one remote address, taken together. */
export interface SessionReading {
  readonly local: string;
  readonly remote: string;
  readonly count: number;
  /** Largest segment in use among them, in bytes of payload without TCP options (`mss`). */
  readonly segmentBytes: number;
  /** Segment that this node offers (`advmss`); absent when not printed. */
  readonly advertisedBytes?: number;
  /** Path MTU that the kernel assumes (`pmtu`); absent when not printed. */
  readonly pathMtuBytes?: number;
  /** TCP timestamps (12 bytes of every segment) in use. */
  readonly timestamps: boolean;
}

/** A network file system that is mounted here. */
export interface MountReading {
  readonly server: string;
  readonly kind: 'nfs' | 'smb' | 'afp';
  readonly at: string;
}

/** What an identifier of LLDP is, in the words of its subtypes (IEEE 802.1AB-2016 8.5.2, 8.5.3). */
export const neighbourIdKinds = ['mac', 'address', 'name', 'alias', 'component', 'other'] as const;
/** What an identifier of LLDP is. */
export type NeighbourIdKind = (typeof neighbourIdKinds)[number];

/** One neighbour that announces itself by LLDP (IEEE 802.1AB). All texts are cleaned. */
export interface NeighbourReading {
  /** Port of this node on which it was heard, by the name that the survey has for it. */
  readonly port: string;
  /** Its chassis; a MAC address is lower case with colons, anything else as it was sent. */
  readonly chassis: string;
  readonly chassisKind: NeighbourIdKind;
  /** Its own port. */
  readonly portId: string;
  readonly portIdKind: NeighbourIdKind;
  /** Description of its port; absent where it sends none. */
  readonly portText?: string;
  readonly systemName?: string;
  readonly systemText?: string;
  /** What it has switched on: `bridge`, `router`, `telephone`, `wlan-access-point`, `station`, ... */
  readonly capabilities: readonly string[];
  /** Literal IP addresses by which it can be managed; none where it sends none. */
  readonly addresses: readonly string[];
  /** Speed of its medium in use (802.3 extension); absent where it sends none that is known. */
  readonly speedMbps?: number;
  readonly duplex?: 'full' | 'half';
  /** Its medium in use as IEEE 802.3 names it. */
  readonly phyText?: string;
  readonly autoNegotiation?: boolean;
  /** Modes that it offers, spelt as those of ports are. */
  readonly advertisedModes?: readonly string[];
  /** Its maximum frame as it sends it; whether that counts header and FCS varies. */
  readonly frameMaxBytes?: number;
  /** VLAN of its untagged frames (802.1 extension). */
  readonly untaggedVlan?: number;
}

/** The stations heard behind one port in one VLAN. */
export interface ForwardingReading {
  readonly port: string;
  /** VLAN identifier; absent where the node learns for all VLANs together. */
  readonly vlan?: number;
  /** MAC addresses, lower case with colons, in order; learnt ones only, none of the node's own. */
  readonly macs: readonly string[];
}

/** Two accesses to one node that say different things. */
export interface Disagreement {
  /** Port name; absent for a fact of the node. */
  readonly port?: string;
  readonly fact: string;
  /** What each said, with its source. */
  readonly values: readonly { readonly value: string; readonly source: string }[];
}
