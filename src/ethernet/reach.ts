/**
 * Where a figure of this folder's media tables comes from when the standard itself was not at
 * hand: a secondary source that quotes it, or memory. No entry was read in the primary text.
 */
export type SourceMark = 'secondary source' | 'from memory';

/** How far one PHY goes over one medium, in metres. */
export interface Reach {
  /** Holds for any run that is built to the standard; absent: no length is assured. */
  readonly assuredMetres?: number;
  /** Beyond `assuredMetres`, as far as this under `condition`; absent: nothing beyond. */
  readonly conditionalMetres?: number;
  /** What `conditionalMetres` asks for, to be read after "only". */
  readonly condition?: string;
  readonly mark: SourceMark;
  /** An older grade of the same medium, often sold under the same name, and its reach. */
  readonly olderGrade?: { readonly modalBandwidthMhzKm: number; readonly metres: number };
}

/** Whether a length is within the reach of a medium. */
export type ReachStanding = 'assured' | 'conditional' | 'beyond';

/** Where a length, in metres, stands against a reach; the limits themselves are within. */
export function reachStanding(reach: Reach, lengthMetres: number): ReachStanding {
  if (lengthMetres <= (reach.assuredMetres ?? -1)) return 'assured';
  return lengthMetres <= (reach.conditionalMetres ?? -1) ? 'conditional' : 'beyond';
}
