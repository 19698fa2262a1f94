import type { AuthProtocol, PrivacyProtocol } from '../intent/types.ts';
import type { Severity } from '../judge/types.ts';
import type { Output } from './outputs.ts';

/** Options that several commands take, as the command line gives them. */
export interface CommonOptions {
  readonly intent?: string;
  readonly survey?: string;
  readonly showCommands?: boolean;
  readonly quiet?: boolean;
  readonly verbose?: boolean;
}

/** Options of commands that write a result. */
export interface OutputOptions {
  readonly out?: string;
  readonly format: 'text' | 'json';
  readonly redact?: boolean;
}

/** Options of a job that runs by itself: its time, and who is told. */
export interface JobOptions {
  /** Age by which the whole run ends, its wait included. */
  readonly deadline?: string;
  /** Age up to which it waits before it begins. */
  readonly spread?: string;
  /** `local`, `udp://HOST:514` or `tcp://HOST:601`. */
  readonly syslog?: string;
  /** `local0` to `local7`. */
  readonly syslogFacility?: string;
  readonly mailTo?: string;
  readonly mailFrom?: string;
  /** `smtp://HOST:587` or `smtps://HOST:465`. */
  readonly smtp?: string;
  readonly smtpUser?: string;
  /** Name of the secret that is the password. */
  readonly smtpSecret?: string;
  /** File of certificates to trust, PEM. */
  readonly smtpCa?: string;
}

/** Options of `schedule`. */
export interface ScheduleOptions {
  readonly intent?: string;
  /** Time of day, `02:00`. */
  readonly at: string;
  readonly as: 'systemd' | 'cron';
  /** Account that the job runs as; absent: this one. */
  readonly user?: string;
  readonly deadline: string;
}

/** Options of `audit`. */
export interface AuditOptions extends CommonOptions, JobOptions {
  /** What to write, in order; one at most goes to stdout. */
  readonly outputs: readonly Output[];
  readonly redact?: boolean;
  readonly least: Severity;
  readonly strict?: boolean;
  /** Tell only what moved since the audit before, and keep this one. */
  readonly changes?: boolean;
  /** With `changes`: print the whole report, and keep this audit all the same. */
  readonly all?: boolean;
  /** File or server of the history; absent: the default file. */
  readonly store?: string;
  /** Let collectors read the nodes. */
  readonly collect?: boolean;
  /** With `collect`: times of day, as crontab(5) has them; absent: once, now. */
  readonly cron?: string;
}

/** Options of `collector`. */
export interface CollectorOptions {
  readonly store: string;
  /** Names of sites and of reaches; empty: all. */
  readonly site: readonly string[];
  readonly reach: readonly string[];
  /** Intent that bounds what it may be asked; absent: the audit says. */
  readonly intent?: string;
  readonly atOnce: number;
  readonly prepare?: boolean;
  readonly quiet?: boolean;
}

/** Options of `history`. */
export interface HistoryOptions {
  readonly intent?: string;
  readonly store?: string;
  /** Name of the site; absent: that of the intent, or the only one in the store. */
  readonly site?: string;
  /** Time or age: `30d`, `2026-11-01`. */
  readonly since?: string;
  /** Age within which an audit must have been complete. */
  readonly completeWithin?: string;
  /** Age beyond which nights are taken out. */
  readonly prune?: string;
  readonly check?: boolean;
  readonly redact?: boolean;
  readonly format: 'text' | 'json' | 'jsonl';
}

/** Options of `page`. */
export interface PageOptions {
  /** Folder of the pages. */
  readonly out: string;
  readonly store?: string;
  /** Intent files and names of sites; both empty: the default intent, else all sites. */
  readonly intent: readonly string[];
  readonly site: readonly string[];
  readonly redact?: boolean;
  readonly quiet?: boolean;
}

/** Options of `survey`. */
export interface SurveyOptions extends CommonOptions, OutputOptions {}

/** Options of `access`. */
export interface AccessOptions extends CommonOptions {
  readonly enrol?: boolean;
  readonly printScript?: boolean;
}

/** Options of `rules`. */
export interface RulesOptions extends CommonOptions {
  readonly facts?: boolean;
}

/** Options of `fit`. */
export interface FitOptions extends CommonOptions {
  /** IP packets in bytes, in the order given; empty: 1500, 2000 and the declared packet. */
  readonly size: readonly number[];
  /** Name of a path: every pair of its ends. */
  readonly path?: string;
  /** Every path of the intent. */
  readonly all?: boolean;
  readonly format: 'text' | 'json';
  /** Saved survey in which the result is kept. */
  readonly into?: string;
  /** File or server of the history in which it is kept. */
  readonly store?: string;
}

/** Options of `transfer`. */
export interface TransferOptions extends Omit<CommonOptions, 'verbose'> {
  /** Seconds. */
  readonly for: number;
  /** Bytes in each direction; absent: what the path allows in that time. */
  readonly atMost?: number;
  readonly streams: number;
  readonly bothWays?: boolean;
  readonly format: 'text' | 'json';
  /** Saved survey in which the result is kept. */
  readonly into?: string;
  /** File or server of the history in which it is kept. */
  readonly store?: string;
}

/** Options of `live`. */
export interface LiveOptions {
  readonly intent?: string;
  /** Age for which it watches. */
  readonly for: string;
  readonly oneEnd?: boolean;
  readonly bell?: boolean;
  readonly format: 'text' | 'jsonl';
  readonly showCommands?: boolean;
  readonly quiet?: boolean;
}

/** Options of `explain`. */
export interface ExplainOptions extends Omit<CommonOptions, 'verbose'> {
  readonly format: 'text' | 'json';
  readonly redact?: boolean;
}

/** Options of `ceiling`. */
export interface CeilingOptions {
  /** Mb/s; absent: that of the path. */
  readonly rate?: number;
  /** IP packet in bytes; absent: that of the path, else 1500. */
  readonly mtu?: number;
  /** True: one tag. */
  readonly vlan?: true | number;
  readonly ipv6?: boolean;
  readonly timestamps: boolean;
  /** Round trip in ms. */
  readonly rtt?: number;
  readonly seconds?: number;
  readonly measured?: string;
  readonly intent?: string;
  readonly survey?: string;
  readonly path?: string;
  readonly format: 'text' | 'json';
}

/** Options of `draft`. */
export interface DraftOptions {
  /** File with an `access:` section. */
  readonly access?: string;
  readonly sshUser?: string;
  readonly snmpUser?: string;
  readonly snmpAuth: AuthProtocol;
  readonly snmpPrivacy: PrivacyProtocol;
  /** Address prefixes inside which neighbours are followed. */
  readonly within: readonly string[];
  readonly survey?: string;
  readonly onto?: string;
  readonly out?: string;
  readonly showCommands?: boolean;
  readonly quiet?: boolean;
}

/** Options of `rehearse`. */
export interface RehearseOptions extends Omit<CommonOptions, 'verbose'> {
  /** Rehearse on what the history read last of each node. */
  readonly lastRead?: boolean;
  readonly store?: string;
  /** File that the rehearsal is kept in as JSON. */
  readonly out?: string;
  /** File that `confirm` needs; absent: one in the state folder. */
  readonly keep?: string;
  readonly format: 'text' | 'json' | 'markdown';
  readonly least: Severity;
}

/** Options of `confirm`. */
export interface ConfirmOptions extends Omit<CommonOptions, 'verbose'> {
  /** What `rehearse --keep` wrote; absent: what lies in the state folder. */
  readonly kept?: string;
  /** Number of the last step that is to be done by now; absent: all are. */
  readonly step?: number;
  readonly format: 'text' | 'json' | 'markdown';
  readonly least: Severity;
}
