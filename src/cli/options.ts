import type { Severity } from '../judge/types.ts';

/** Options that several commands take, as the command line gives them. */
export interface CommonOptions {
  readonly intent?: string;
  readonly survey?: string;
  readonly showCommands?: boolean;
  readonly quiet?: boolean;
  readonly verbose?: boolean;
}

export interface OutputOptions {
  readonly out?: string;
  readonly format: 'text' | 'json';
  readonly redact?: boolean;
}

export interface AuditOptions extends CommonOptions, OutputOptions {
  readonly least: Severity;
  readonly strict?: boolean;
}

export interface SurveyOptions extends CommonOptions, OutputOptions {}

export interface AccessOptions extends CommonOptions {
  readonly enrol?: boolean;
  readonly printScript?: boolean;
}

export interface RulesOptions extends CommonOptions {
  readonly facts?: boolean;
}

export interface FitOptions extends CommonOptions {
  /** IP packets in bytes, in the order given; empty: the declared packet and 1500. */
  readonly size: readonly number[];
}
