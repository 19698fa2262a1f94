import type { Strand } from './island-parts.ts';

/** A link within a tier, from the top of its vertical piece to the bottom. */
export interface Shell {
  readonly strand: Strand;
  readonly top: number;
  readonly bottom: number;
}

/** Tracks beside a tier, counted from the boxes outwards. */
export interface Tracks {
  readonly count: number;
  readonly of: ReadonlyMap<Strand, number>;
}

/** Least way between two links that share a track. */
const clearOf = 6;

/** Gives each link within a tier a track of its own as far as they overlap; the shortest innermost. */
export function tracksOf(shells: readonly Shell[]): Tracks {
  const taken: Shell[][] = [];
  const of = new Map<Strand, number>();
  const length = ({ top, bottom }: Shell) => bottom - top;
  for (const shell of shells.toSorted((a, b) => length(a) - length(b) || a.top - b.top)) {
    const isFree = (track: readonly Shell[]) =>
      track.every(
        ({ top, bottom }) => shell.bottom + clearOf < top || bottom + clearOf < shell.top,
      );
    const free = taken.findIndex(isFree);
    const at = free === -1 ? taken.length : free;
    taken[at] = [...(taken[at] ?? []), shell];
    of.set(shell.strand, at);
  }
  return { count: taken.length, of };
}
