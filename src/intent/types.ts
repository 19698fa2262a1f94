import type { Place } from '../facts/subject.ts';

/** A secret's name: looked up in the environment, then in a secrets file, then asked for. */
export type SecretName = string;

/** What the shell of a host belongs to: `windows` is sent to PowerShell, `unix` to `sh`. */
export const sshSystems = ['unix', 'windows'] as const;
/** What the shell of a host belongs to. */
export type SshSystem = (typeof sshSystems)[number];

/** What the host key of a node is recorded under: its address, or its name within its site. */
export const hostKeyPlaces = ['by-address', 'by-site'] as const;
/** What the host key of a node is recorded under. */
export type HostKeyPlace = (typeof hostKeyPlaces)[number];

/** How to log in to a host over SSH. Values not given come from `~/.ssh/config`. */
export interface SshAccess {
  readonly via: 'ssh';
  /** Name under `access:`; `ssh` for the built-in one with no settings. */
  readonly name: string;
  readonly user?: string;
  readonly port?: number;
  /** Private key file; `~` allowed. */
  readonly key?: string;
  /** Secret names, never the secrets. */
  readonly passphrase?: SecretName;
  readonly password?: SecretName;
  /** Host to go through, as `user@host:port`. */
  readonly jump?: string;
  /** What answers there; absent: told from what the server calls itself. */
  readonly system?: SshSystem;
  /** What logs in; absent: `hopgauge`, which knows no certificates, hardware keys and tickets. */
  readonly through?: SshCarrier;
  /** Absent: by address, as OpenSSH does. */
  readonly hostKeys?: HostKeyPlace;
  /** Name in known_hosts of a node that is recorded by site; absent: its address. */
  readonly knownAs?: string;
}

/** What can log in to a host: hopgauge itself, or the `ssh` of the system. */
export const sshCarriers = ['hopgauge', 'system'] as const;
/** What logs in to a host. */
export type SshCarrier = (typeof sshCarriers)[number];

/** SNMPv3 authentication protocols (RFC 3414, RFC 7860). */
export const authProtocols = ['md5', 'sha', 'sha224', 'sha256', 'sha384', 'sha512'] as const;
/** An SNMPv3 authentication protocol. */
export type AuthProtocol = (typeof authProtocols)[number];
/** `aes256` is the form of most switches; `aes256-blumenthal` the draft's other key extension. */
export const privacyProtocols = ['des', 'aes128', 'aes256', 'aes256-blumenthal'] as const;
/** An SNMPv3 privacy protocol. */
export type PrivacyProtocol = (typeof privacyProtocols)[number];

/** How to ask an SNMP agent. */
export interface SnmpAccess {
  readonly via: 'snmp';
  readonly name: string;
  readonly version: '2c' | '3';
  readonly port?: number;
  /** v2c: name of the secret that holds the community. */
  readonly community?: SecretName;
  /** v3 */
  readonly user?: string;
  readonly auth?: AuthProtocol;
  readonly privacy?: PrivacyProtocol;
  readonly secret?: { readonly auth?: SecretName; readonly privacy?: SecretName };
  readonly context?: string;
}

/** Reads the machine that hopgauge runs on. */
export interface LocalAccess {
  readonly via: 'local';
  readonly name: 'local';
}

/** One way of reading a node. */
export type Access = SshAccess | SnmpAccess | LocalAccess;

/** What a number that a node calls MTU counts; see the design's MTU accounting. */
export const mtuAccountings = ['payload', 'header', 'header-fcs', 'header-fcs-tag'] as const;
/** What a number that a node calls MTU counts. */
export type MtuAccounting = (typeof mtuAccountings)[number];

/** What an `unread` node is. `switch`, `converter`, `radio` and `dock` pass frames on. */
export const unreadKinds = [
  'switch',
  'converter',
  'radio',
  'dock',
  'phone',
  'printer',
  'camera',
  'host',
] as const;
/** What a node that nobody reads is. */
export type UnreadKind = (typeof unreadKinds)[number];

/** What a new MTU does to a node: nothing, a link that goes down for a moment, or a restart. */
export const mtuChanges = ['live', 'bounce', 'reload'] as const;
/** What a new MTU does to a node. */
export type MtuChange = (typeof mtuChanges)[number];

/** A node as the owner declares it. */
export interface DeclaredNode {
  readonly name: string;
  readonly place: Place;
  /** Host name or IP address; absent only for `unread` and `local` nodes. */
  readonly at?: string;
  /** Port of `at`, where it is written `host:port` or `[v6]:port`. */
  readonly atPort?: number;
  /** In the order to try and merge; empty for `unread` nodes. */
  readonly access: readonly Access[];
  /** Word for where it can be reached from; absent: any collector of the site reads it. */
  readonly reach?: string;
  /**
   * `switch` forwards frames in layer 2. Default: `switch` when every access is SNMP or `unread`
   * is a kind that passes frames on, else `host`; the intent may say `role:`.
   */
  readonly role: 'host' | 'switch';
  readonly unread?: UnreadKind;
  /** Largest frame, header to FCS, that an unread node passes, in bytes. */
  readonly frameBytes?: number;
  readonly sleeps: boolean;
  readonly mayBeAbsent: boolean;
  /** Joins segments in layer 3. */
  readonly routes: boolean;
  /** Accounting per kind of port (`port`, `vlan`, `bridge`, `bond`); absent: not known. */
  readonly mtuCounts: Readonly<Record<string, MtuAccounting>>;
  /** What a new MTU does to it; absent: as most of its kind do. */
  readonly mtuChange?: MtuChange;
  /** Oldest version of its operating system that is accepted: numbers with dots. */
  readonly osAtLeast?: string;
  /** Facts that the owner vouches for where they would be doubtful: so far `mtu`. */
  readonly believe: readonly 'mtu'[];
  readonly identity: {
    readonly hostKey?: string;
    readonly engineId?: string;
    readonly systemName?: string;
    readonly sysObjectId?: string;
  };
  /** Ports that the intent describes; a link may also name a port that is not here. */
  readonly ports: readonly DeclaredPort[];
}

/** A port with a name of the owner's. */
export interface DeclaredPort {
  /** The owner's name, used in links. */
  readonly alias: string;
  readonly place: Place;
  /** The node's own name; absent: the alias is the name, or `mac` finds it. */
  readonly name?: string;
  /** Lower case with colons. */
  readonly mac?: string;
  /** Oldest version of its driver that is accepted: numbers with dots. */
  readonly driverAtLeast?: string;
  /** Stations that may stand behind it, as virtual machines do; absent: as many as its kind has. */
  readonly behind?: number;
  /** What joins its adapter to the computer, as `busFromText` reads it: `PCIe 8.0 GT/s x4`. */
  readonly busText?: string;
}

/** One end of a link. */
export interface LinkEnd {
  readonly node: string;
  /** Alias or name as written. */
  readonly port: string;
  readonly place: Place;
}

/** Media categories as written in a run. */
export const copperCategories = ['cat5', 'cat5e', 'cat6', 'cat6a', 'cat7', 'cat8'] as const;
/** Grades of fibre as written in a run. */
export const fibreTypes = ['om1', 'om2', 'om3', 'om4', 'om5', 'os1', 'os2'] as const;

/** One passive piece of a run, or a module at its end. */
export interface RunPiece {
  readonly kind: 'cord' | 'wall' | 'fibre' | 'direct-attach' | 'jack' | 'panel' | 'module';
  readonly category?: (typeof copperCategories)[number] | (typeof fibreTypes)[number];
  readonly lengthMetres?: number;
  /** Label that one finds on it: `W-07`, `B/12`. */
  readonly label?: string;
  readonly fieldTerminated: boolean;
  /** Of a module: `10GBASE-T`, `10GBASE-SR`, ... */
  readonly moduleType?: string;
  /** As written. */
  readonly text: string;
  readonly place: Place;
}

/** Two ports joined by a run. */
export interface DeclaredLink {
  /** `plot-1:desk - quay-sw:xg2`, as written. */
  readonly id: string;
  readonly place: Place;
  readonly ends: readonly [LinkEnd, LinkEnd];
  readonly untagged?: string;
  readonly tagged: readonly string[];
  readonly speedMbps?: number;
  readonly duplex: 'full' | 'half';
  readonly lag?: string;
  /** From the first end to the second. */
  readonly run: readonly RunPiece[];
}

/** One broadcast domain. */
export interface DeclaredSegment {
  readonly name: string;
  readonly place: Place;
  readonly vlan?: number;
  /** IP packet, 68..65535 (IPv4) or from 1280 when `ipv6: true`. */
  readonly mtuBytes?: number;
  readonly ipv6: boolean;
}

/** End to end, over one segment or several. */
export interface DeclaredPath {
  readonly name: string;
  readonly place: Place;
  /** Node names; segments already replaced by the nodes that have a link in them. */
  readonly from: readonly string[];
  readonly to: readonly string[];
  readonly over: readonly string[];
  /** Its own; absent: the smallest of `over`. */
  readonly mtuBytes?: number;
  readonly goodputMbps?: number;
  /** `allowed`: bounded transfers may be run on it. */
  readonly load?: 'allowed';
  /** `nightly`: an audit sends a few packets both ways and keeps which sizes pass. */
  readonly fit?: 'nightly';
}

/** A finding that the owner accepts until a date. */
export interface Waiver {
  readonly rule: string;
  /** Subject: node, `node:port`, link, segment or path. */
  readonly on: string;
  /** Last day on which it holds, ISO 8601 date. */
  readonly until: string;
  readonly because: string;
  readonly place: Place;
  /** Where the rule is named; absent where the waiver is not from an intent file. */
  readonly rulePlace?: Place;
}

/** The intent, loaded, merged with its includes and checked. */
export interface Intent {
  readonly intent: 1;
  readonly site: string;
  /** All files read, the named one first. */
  readonly files: readonly string[];
  readonly nodes: readonly DeclaredNode[];
  readonly segments: readonly DeclaredSegment[];
  readonly links: readonly DeclaredLink[];
  readonly paths: readonly DeclaredPath[];
  /** Names of shipped policies, or files relative to the intent file, made absolute. */
  readonly policies: readonly PolicyRef[];
  readonly waivers: readonly Waiver[];
}

/** A policy that an intent puts in force. */
export interface PolicyRef {
  readonly name: string;
  /** Absent for a shipped policy. */
  readonly file?: string;
  /** Absent where the intent names none and the default (`essential`, `jumbo`) is in force. */
  readonly place?: Place;
}

/** A fault in a file of the operator's. Printed as `file:line:column: what; seen; do`. */
export interface InputFault {
  readonly place: Place;
  readonly what: string;
  /** What was there; absent where nothing was. */
  readonly seen?: string;
  readonly remedy: string;
}

/** What a file holds, or all its faults. */
export type Loaded<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly faults: readonly InputFault[] };
