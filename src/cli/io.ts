import type { CollectDeps } from '../collect/collect-survey.ts';
import type { AskSecret } from '../collect/secrets/ask-on-terminal.ts';
import type { SettingsSource } from '../collect/ssh/read-settings.ts';
import type { OwnAccount } from '../collect/ssh/ssh-settings.ts';
import type { FindSecret, Locate } from '../collect/types.ts';
import type { FitProof } from '../facts/proof.ts';
import type { ReadTextFile } from '../intent/read-text.ts';
import type { DeclaredNode } from '../intent/types.ts';

/** One output of the process. */
export interface Out {
  readonly write: (text: string) => void;
  readonly isTerminal: boolean;
  /** Columns of the terminal, as it is now; absent: none, or not known. */
  readonly columns?: number | undefined;
  /** Rows of the terminal, as it is now; absent: none, or not known. */
  readonly rows?: number | undefined;
  /** Aborts when nobody reads any more, as after `head`. Absent: not known. */
  readonly gone?: AbortSignal;
  /**
   * Waits until all that was given is written. Gives the system's code where some of it could not be
   * since it was last asked, as on a full disk; a reader that went away is none. Absent: not known.
   */
  readonly settled?: () => Promise<string | undefined>;
}

/** Puts a question to a person on a terminal; undefined when there is no answer. */
export type AskLine = (question: string) => Promise<string | undefined>;

/**
 * Everything of the process that a command may use. `main.ts` makes the real one; tests and the
 * demo make their own and call `run` in the same process.
 */
export interface Io {
  readonly stdout: Out;
  readonly stderr: Out;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly now: () => Date;
  /** Ends all reading when the operator interrupts. */
  readonly signal: AbortSignal;
  /** Reads an intent or policy file, relative to the working folder. */
  readonly readTextFile: ReadTextFile;
  /** Reads a saved survey, relative to the working folder. */
  readonly readSurveyFile: ReadTextFile;
  /** Writes a whole file or none of it, relative to the working folder. */
  readonly writeFile: WriteFile;
  /** Makes a folder for its owner alone, with those above it; absent: folders need none. */
  readonly makeFolder?: (path: string) => Promise<Written>;
  /** Whether a file could be written there now; absent: not asked before a reading. */
  readonly canWriteFile?: (path: string) => Promise<Written>;
  /** Absolute folder that relative files start from; absent: as they are written. */
  readonly workingFolder?: string;
  /** Folder of the shipped policies, absolute. */
  readonly policiesFolder: string;
  readonly own: OwnAccount;
  /** Absent where there is no terminal. */
  readonly askLine?: AskLine;
  readonly askSecret?: AskSecret;
  /** Looks secrets up: environment, secrets file, terminal. */
  readonly findSecret: FindSecret;
  /** Replaces addresses, as the demo does; absent: names are looked up. */
  readonly locate?: Locate;
  /** Literal address that a name stands for, to ask routes for; absent: the system's resolver. */
  readonly resolve?: CollectDeps['resolve'];
  /** Where SSH settings and known hosts come from; absent: the operator's own. */
  readonly sshSettings?: Omit<SettingsSource, 'own'>;
  /** Waits; fails when the signal ends it. Absent: the timers of Node, which hold no process. */
  readonly sleep?: (ms: number, signal: AbortSignal) => Promise<void>;
  /** At least 0 and less than 1; absent: that of the language. */
  readonly random?: () => number;
  /** Absolute command that starts this program again; absent: nobody knows. */
  readonly program?: readonly string[];
  /** Reads nodes in place of the network, for tests. */
  readonly read?: CollectDeps['read'];
  /** Tries a path in place of the network, for tests. */
  readonly fit?: FitPair;
}

/** Two ends that are to be tried, each direction whose sender can be asked. */
export interface FitWanted {
  readonly directions: readonly FitWay[];
  /** IP packet that is declared, in bytes; absent: none is. */
  readonly declaredBytes?: number;
}

/** One direction that is to be tried. */
export interface FitWay {
  readonly from: DeclaredNode;
  readonly to: DeclaredNode;
  /** Literal IP address. */
  readonly toAddress: string;
}

/** Tries packets of a few sizes, one direction after the other; what could not be tried is left out. */
export type FitPair = (wanted: FitWanted, signal: AbortSignal) => Promise<readonly FitProof[]>;

/** What became of a file that was to be written. */
export type Written = { readonly ok: true } | { readonly ok: false; readonly reason: string };
/** Who may read a new file: a survey names every device of a site and is the owner's alone. */
export type Audience = 'owner' | 'everyone';
/** Writes a file whole or not at all. */
export type WriteFile = (path: string, text: Text, audience?: Audience) => Promise<Written>;
/** A text, or its pieces where it may be longer than one text of the engine. */
export type Text = string | Iterable<string>;
