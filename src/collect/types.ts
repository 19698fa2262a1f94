import type { ReadTopic } from '../facts/read-topics.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import type { Trouble } from '../facts/trouble.ts';

/**
 * What one access told of a node. The collector merges several of these into a NodeSurvey; a
 * reader fills what it knows and gives a gap for each dictionary fact that it asked for in vain.
 */
export type NodeReading = Omit<NodeSurvey, 'node' | 'readings' | 'disagreements'>;

/** A reading, or the trouble that kept it from being made. */
export type ReadOutcome =
  | { readonly ok: true; readonly reading: NodeReading }
  | { readonly ok: false; readonly trouble: Trouble };

/** What a reader needs to know besides how to reach the node. */
export interface ReadRequest {
  /** Literal IP addresses to ask routes for. Validated; at most `routesPerNodeMax`. */
  readonly peers: readonly string[];
  /** What is worth its cost in this run. A reader may tell more, where that costs nothing. */
  readonly topics: ReadonlySet<ReadTopic>;
}

/** Limits of one reading. Every wait and size has one. */
export interface ReadLimits {
  readonly connectMs: number;
  /** From the start of the connection to the last byte. */
  readonly wholeMs: number;
  readonly outputBytesMax: number;
}

/** Limits that suit a host or switch in a local network. */
export const defaultReadLimits: ReadLimits = {
  connectMs: 10_000,
  wholeMs: 30_000,
  outputBytesMax: 8 * 1024 * 1024,
};

/** Addresses that one node is asked routes for, at most. */
export const routesPerNodeMax = 64;

/** What runs the script on a host: a POSIX shell, or PowerShell on Windows. */
export type ShellKind = 'sh' | 'powershell';

/** A script for the shell that the host turns out to have; one text where any shell takes it. */
export type HostScript = string | ((shell: ShellKind) => string);

/** What came back from a host that was sent a script. */
export type ScriptOutcome =
  | {
      readonly ok: true;
      readonly output: Uint8Array;
      /** What ran it; absent: `sh`. */
      readonly shell?: ShellKind;
      /** Verified fingerprint, over SSH. */
      readonly hostKey?: string;
      /** Exit status of the shell; absent where the host gave none. */
      readonly exitCode?: number;
      /** First words on standard error, cleaned; absent where there were none. */
      readonly complaint?: string;
    }
  | {
      readonly ok: false;
      readonly trouble: Trouble;
      /** What had come when the time was over, for a reader that can use a part of it. */
      readonly came?: {
        readonly output: Uint8Array;
        readonly shell?: ShellKind;
        readonly hostKey?: string;
      };
    };

/**
 * Sends a script to the standard input of exactly `sh -s` on one host, of PowerShell where it is
 * Windows, and takes what it prints. Never throws for what the host or the network does.
 */
export type RunScript = (
  script: HostScript,
  limits: ReadLimits,
  signal: AbortSignal,
) => Promise<ScriptOutcome>;

/** Turns the `at` of a node into an address; the demo answers with ports of its own. */
export type Locate = (
  at: string,
  via: 'ssh' | 'snmp',
) => Promise<{ readonly address: string; readonly port?: number }>;

/** A secret that cannot be printed by accident. */
export interface Secret {
  reveal(): string;
}

/** Looks a secret up by name; undefined when nobody has it. */
export type FindSecret = (name: string) => Promise<Secret | undefined>;
