import type { FactValue } from '../facts/entry.ts';
import type { Place } from '../facts/subject.ts';
import type { Intent, MtuChange } from '../intent/types.ts';
import type { ArrivingDevice, CordMove, StepSetting } from './types.ts';

/** One setting that a change asks for. */
export interface AskedSetting {
  readonly node: string;
  /** As written; absent: all ports of the node. */
  readonly port?: string;
  readonly setting: StepSetting;
  readonly to: FactValue;
  readonly place: Place;
  /** What it was, where no reading tells: the old place of a cord. */
  readonly from?: FactValue;
  readonly cord?: CordMove;
  readonly arrives?: ArrivingDevice;
}

/** What a change asks for, by its own file or by a second intent. */
export interface Asked {
  readonly about?: string;
  readonly settings: readonly AskedSetting[];
  /** What is declared from now on. */
  readonly segments: readonly {
    readonly name: string;
    readonly mtuBytes: number;
    readonly place: Place;
  }[];
  /** What a new MTU does to a node, where the change says; else the intent may. */
  readonly mtuChange: ReadonlyMap<string, MtuChange>;
  /** Declared speed in Mb/s from now on, by id of the link. */
  readonly speeds: ReadonlyMap<string, number>;
  /** Declared duplex from now on, by id of the link. */
  readonly duplexes: ReadonlyMap<string, 'full' | 'half'>;
  /** The whole intent from now on, where a second one is the change. */
  readonly intent?: Intent;
}
