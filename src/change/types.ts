import type { FactValue } from '../facts/entry.ts';
import type { Place } from '../facts/subject.ts';
import type { DeclaredLink } from '../intent/types.ts';
import type { LineMedium } from './line-medium.ts';

/** What a step sets. */
export type StepSetting =
  | 'mtu'
  | 'speed'
  | 'duplex'
  | 'auto-negotiation'
  /** Several of the three before it at once, as one command sets them. */
  | 'link-mode'
  | 'link'
  | 'node';

/** What is set of speed, duplex and negotiation. */
export interface AskedLine {
  readonly speedMbps?: number;
  readonly duplex?: 'full' | 'half';
  readonly negotiates?: boolean;
}

/** What a step does to what runs over the port while it is taken (common practice). */
export type Disturbance = 'nothing' | 'link-bounce' | 'node-reload' | 'link-moved' | 'node-out';

/** A cord that is moved, laid or taken away. */
export interface CordMove {
  /** The link that it was; absent: a new cord. */
  readonly takes?: DeclaredLink;
  /** The link that it becomes; absent: it is taken away. */
  readonly lays?: DeclaredLink;
  /** Nodes that the second intent no longer has: gone once no link is left at them. */
  readonly leaving: readonly string[];
}

/** A device that is put in the place of a node, as far as the owner says. */
export interface ArrivingDevice {
  /** What all its ports call their MTU, or its largest frame where nobody reads it; absent: not known. */
  readonly mtuBytes?: number;
  /** The most that it takes; absent: not known. */
  readonly mtuMaxBytes?: number;
}

/** A port of which a step makes the link another. */
export interface TouchedPort {
  readonly node: string;
  /** The node's own name of it. */
  readonly name: string;
  /** The step takes its cord away and lays none there. */
  readonly freed?: true;
}

/** One thing that a person does on one node, and that can be checked and undone by itself. */
export interface ChangeStep {
  /** Stable within a change: `mtu quay-sw:xg2`. */
  readonly id: string;
  readonly node: string;
  /** `node:port`, as the intent names it; absent: the whole node. */
  readonly port?: string;
  /** The node's own name of that port; absent: not known, or the whole node. */
  readonly portName?: string;
  readonly setting: StepSetting;
  /** As it was read; absent: not known. */
  readonly from?: FactValue;
  readonly to: FactValue;
  readonly disturbs: Disturbance;
  /** Where the change file or the second intent asks for it. */
  readonly place: Place;
  /** Steps that must be done before it, such as a lower layer before a higher one. */
  readonly after: readonly string[];
  /** Of a step that moves a cord. */
  readonly cord?: CordMove;
  /** Of a step that sets speed, duplex or negotiation. */
  readonly line?: AskedLine;
  /** Of the same: the port at the other end of the link; absent: not known. */
  readonly across?: { readonly node: string; readonly name: string };
  /** Of the same: what the run of the link is declared to be; absent: that does not tell. */
  readonly runMedium?: LineMedium;
  /** Own names of the ports of which the link is another after it: by cord or by partner. */
  readonly touches?: readonly TouchedPort[];
  /** Of a step that replaces a node. */
  readonly arrives?: ArrivingDevice;
}

/** How bad one state is, worst first: compared from the first number on. */
export interface StateCost {
  /** Pairs of ends of paths that no cords join. */
  readonly pathsApart: number;
  /**
   * Pairs of ends of paths whose packets are lost silently: a hop in the middle is smaller than
   * what one of the ends sends. TCP may still work where the other end is small.
   */
  readonly pathsCut: number;
  /** Other pairs that do not carry what is declared, or of which one end sends more than the other takes. */
  readonly pathsReduced: number;
  /** IP packet in bytes that all pairs together lack of what is declared. */
  readonly clearanceLackBytes: number;
  /** Links that the step into this state takes down for a moment. */
  readonly bounces: number;
}

/** An order of steps with the state after each. */
export interface StepOrder {
  readonly steps: readonly ChangeStep[];
  /** After each step, in the same order. */
  readonly costs: readonly StateCost[];
  /** The order was found by looking at all states. */
  readonly exact: boolean;
  /** No order can be better than this in its worst state; equal to it where `exact`. */
  readonly bound: StateCost;
}

/** A remark on one port, link or node of a change. */
export interface ChangeRemark {
  readonly kind: 'impossible' | 'forgotten' | 'unknown' | 'caution';
  /** What it is about: node, `node:port`, link, segment, path or aggregate. */
  readonly on: string;
  /** What is so, beginning with what follows `on`. */
  readonly what: string;
  /** What to do; absent where there is nothing to do. */
  readonly remedy?: string;
}
