import type { CauseKind } from '../../src/diagnose/cause.ts';
import type { Described } from './described.ts';

/** A fault of the trade as a described network, with the same network after it was mended. */
export interface Fault {
  /** Names it in the table. */
  readonly key: string;
  /** What a person would call it. */
  readonly what: string;
  readonly sick: Described;
  readonly healthy: Described;
  /** Rules that must tell of it; empty: it only looks like a fault, and nothing may be told. */
  readonly finds: readonly string[];
  /** `undetermined` where facts show that something cannot be believed, and no more. */
  readonly verdict?: 'broken' | 'undetermined';
  /** The hop, port, link or node that a finding must name. */
  readonly at: string;
  /** What `explain` must name first; absent: no link and no path has the fault. */
  readonly explains?: {
    readonly target: string;
    /** Absent: no cause, but what cannot be told. */
    readonly kind?: CauseKind;
    readonly names: string;
  };
}

/** A fault that no reading of one night shows. */
export interface HiddenFault {
  readonly key: string;
  readonly why: string;
  /** What would show it. */
  readonly shownBy: 'a fit' | 'a second night' | 'a transfer' | 'a person looking';
}
