import { type FibreCore, fibreCore, sameMode } from './fibre-reach.ts';
import { fibreOf, isCable, mediumOfCable, mediumOfPhy, type PlacedPiece } from './run-piece.ts';

/** The piece that limits a run, and why, in words. */
export interface RunLimit {
  /** Place in the run, counted from 0. */
  readonly pieceIndex: number;
  readonly reason: string;
}

/** PHYs of two names that understand each other, at the shorter reach (from memory). */
const compatible: readonly (readonly [string, string])[] = [
  ['1000BASE-LX', '1000BASE-LX10'],
  ['10GBASE-LR', '10GBASE-ER'],
  ['25GBASE-CR', '25GBASE-CR-S'],
];

/** The first thing that can never work together in a run; undefined where there is none. */
export function runMix(pieces: readonly PlacedPiece[]): RunLimit | undefined {
  return (
    mixedMedia(pieces) ??
    mixedCores(pieces) ??
    besideDirectAttach(pieces) ??
    moduleInside(pieces) ??
    moduleOnWrongMedium(pieces) ??
    modulesApart(pieces)
  );
}

function limit(piece: PlacedPiece, reason: string): RunLimit {
  return { pieceIndex: piece.index, reason };
}

function mixedMedia(pieces: readonly PlacedPiece[]): RunLimit | undefined {
  const cables = pieces.filter((piece) => mediumOfCable(piece) !== undefined);
  const first = cables.map(mediumOfCable)[0];
  const other = cables.find((piece) => mediumOfCable(piece) !== first);
  if (other === undefined) return undefined;
  return limit(other, `${mediumOfCable(other)} cannot be joined to ${first}`);
}

function mixedCores(pieces: readonly PlacedPiece[]): RunLimit | undefined {
  const cores = pieces.flatMap((piece) => {
    const fibre = fibreOf(piece);
    return fibre === undefined ? [] : [{ piece, core: fibreCore(fibre) }];
  });
  const first = cores[0]?.core;
  const other = cores.find(({ core }) => core !== first);
  if (other === undefined || first === undefined) return undefined;
  return limit(other.piece, `${coreWords(other.core)} cannot be joined to ${coreWords(first)}`);
}

function coreWords(core: FibreCore): string {
  return core === 'single-mode' ? 'single-mode fibre' : `multi-mode fibre of ${core}`;
}

function besideDirectAttach(pieces: readonly PlacedPiece[]): RunLimit | undefined {
  const whole = pieces.find((piece) => piece.kind === 'direct-attach');
  if (whole === undefined) return undefined;
  const other = pieces.find((piece) => piece !== whole && piece.kind !== 'module');
  if (other === undefined) return undefined;
  return limit(other, 'a direct-attach cable ends in its own modules: nothing can be joined to it');
}

function moduleInside(pieces: readonly PlacedPiece[]): RunLimit | undefined {
  const inside = pieces.find(
    (piece) => piece.kind === 'module' && piece.index > 0 && piece.index < pieces.length - 1,
  );
  if (inside === undefined) return undefined;
  return limit(inside, 'a module stands at an end of a run, not between its pieces');
}

function moduleOnWrongMedium(pieces: readonly PlacedPiece[]): RunLimit | undefined {
  const cables = pieces.filter(isCable);
  for (const module of pieces.filter((piece) => piece.kind === 'module')) {
    const phy = module.moduleType ?? '';
    const wrong = cables.find((cable) => misfits(phy, cable));
    if (wrong !== undefined) {
      return limit(module, `${phy} does not run over ${wrong.category ?? wrong.kind}`);
    }
  }
  return undefined;
}

/** A PHY that is not in the tables is no misfit: nothing is known of it. */
export function misfits(phy: string, cable: PlacedPiece): boolean {
  const made = mediumOfPhy(phy);
  const medium = mediumOfCable(cable);
  if (made === undefined || medium === undefined) return false;
  if (made !== medium) return true;
  const fibre = fibreOf(cable);
  return fibre !== undefined && !sameMode(phy, fibreCore(fibre));
}

function modulesApart(pieces: readonly PlacedPiece[]): RunLimit | undefined {
  const [first, second] = pieces.filter((piece) => piece.kind === 'module');
  if (first?.moduleType === undefined || second?.moduleType === undefined) return undefined;
  if (!apart(first.moduleType, second.moduleType)) return undefined;
  return limit(second, `${second.moduleType} at one end and ${first.moduleType} at the other`);
}

/** Twisted-pair PHYs agree on a rate by auto-negotiation; the others must be of one kind. */
function apart(one: string, other: string): boolean {
  const media = [mediumOfPhy(one), mediumOfPhy(other)];
  if (one === other || media.includes(undefined)) return false;
  if (media.every((medium) => medium === 'copper')) return false;
  return !compatible.some((pair) => pair.includes(one) && pair.includes(other));
}
