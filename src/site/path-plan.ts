import type { Gap } from '../facts/gap.ts';
import type { DeclaredPath, RunPiece } from '../intent/types.ts';
import type { ChosenRoute } from './choose-route.ts';
import type { NodeView } from './node-view.ts';
import type { Detour } from './path-detour.ts';
import type { PortRef } from './site-index.ts';
import type { Hop } from './types.ts';

/** A hop before anything is known of what it passes. */
export interface HopPlan {
  readonly ref: PortRef;
  readonly position: Hop['position'];
  readonly distance: number;
  readonly layer: boolean;
  /** VLAN tags on the path's frames here; undefined when no link says. */
  readonly tags: number | undefined;
  readonly linkId?: string;
  readonly runToNext: readonly RunPiece[];
  /** Packets of the end `from` come in by it, or go out by it; absent where both may be. */
  readonly way?: 'in' | 'out';
  readonly inUse?: boolean;
  readonly idleBecause?: 'spanning-tree' | 'lacp';
}

/** One pair of ends with its hops in drawing order. */
export interface PathPlan {
  readonly id: string;
  readonly declared: DeclaredPath;
  readonly from: NodeView;
  readonly to: NodeView;
  readonly mtuBytes: number | undefined;
  readonly connected: boolean;
  /** What the spanning tree does to it; absent where none was read. */
  readonly detour?: Detour;
  readonly hops: readonly HopPlan[];
  /** Ends of which no port is known, by node name, and why. */
  readonly missing: readonly { readonly node: string; readonly gap: Gap }[];
  /** How each end sends to the other; undefined: not known. */
  readonly routeThere: ChosenRoute | undefined;
  readonly routeBack: ChosenRoute | undefined;
  /** Ids of ports by which the intent lets each end leave, with the layers above; empty: none declared. */
  readonly doorsFrom: readonly string[];
  readonly doorsTo: readonly string[];
}
