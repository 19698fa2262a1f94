import type { PortState } from '../probe/live-changes.ts';
import { errorsPerSecond } from '../probe/live-errors.ts';
import { isMissing, type LiveLook } from '../probe/live-types.ts';
import { clean, columnsOf, headOf, padEnd } from './layout.ts';
import {
  clockWords,
  type DeclaredLine,
  differsFrom,
  lineWords,
  offerWords,
  rateWords,
} from './live-words.ts';
import { paintFor } from './paint.ts';

/** One port that is watched, as it stands. */
export interface BoardPort {
  /** `store:eth1` */
  readonly id: string;
  readonly declared: DeclaredLine;
  readonly state: PortState;
  /** Why the node gives no answer now; absent: it does. */
  readonly lost?: string;
}

/** What is drawn at the foot of a terminal. */
export interface Board {
  readonly ports: readonly BoardPort[];
  readonly nowMs: number;
  readonly untilMs: number;
}

/** Where it is drawn. */
export interface BoardLook {
  /** Columns of the terminal. */
  readonly width: number;
  /** Rows of the terminal. */
  readonly height: number;
  readonly colour: boolean;
}

const titles = ['port', 'link', 'speed', 'errors/s', 'last change', 'far side offers'] as const;
/** Columns that give way where the terminal is too narrow, the first one first. */
const yielding = [5, 4, 3];
const gapColumns = 2;

/** The lines of the board, none wider than the terminal less one column, so that none wraps. */
export function boardLines(board: Board, { width, height, colour }: BoardLook): readonly string[] {
  const room = Math.max(10, width - 1);
  const paint = paintFor(colour);
  // A line for the titles, one for the clock, one for what has no room.
  const shown = Math.max(1, Math.min(board.ports.length, height - 4));
  const ports = board.ports.slice(0, shown);
  const rows = ports.map(cellsOf);
  const kept = columnsThatFit([titles, ...rows], room);
  const widths = kept.map((at) => widest([titles, ...rows], at));
  const line = (cells: readonly string[]) => {
    const text = kept.map((at, i) => padEnd(cells[at] ?? '', widths[i] ?? 0)).join('  ');
    return headOf(text.trimEnd(), room);
  };
  const more = board.ports.length - shown;
  return [
    paint.quiet(line(titles)),
    ...ports.map((port, i) => toneOf(port, paint)(line(rows[i] ?? []))),
    ...(more > 0 ? [headOf(`and ${more} more ports, of which changes are told`, room)] : []),
    paint.quiet(
      headOf(
        `${clockWords(board.nowMs)} UTC; ends at ${clockWords(board.untilMs)}, or with Ctrl-C`,
        room,
      ),
    ),
  ];
}

function cellsOf(port: BoardPort): readonly string[] {
  const { id, declared, state, lost } = port;
  const { look } = state;
  const changed = state.changedAtMs === undefined ? 'none seen' : clockWords(state.changedAtMs);
  if (lost !== undefined) return [clean(id), 'no answer', '', '', changed, ''];
  if (look === undefined) return [clean(id), 'not asked yet', '', '', '', ''];
  if (isMissing(look)) return [clean(id), 'no such port', '', '', changed, ''];
  return [
    clean(id),
    linkCell(look),
    speedCell(look, declared),
    errorCell(state),
    changed,
    offerCell(look),
  ];
}

function linkCell({ adminUp, up }: LiveLook): string {
  if (adminUp.value === false) return 'off';
  if (up.value === undefined) return 'not told';
  return up.value ? 'up' : 'down';
}

function speedCell(look: LiveLook, declared: DeclaredLine): string {
  if (look.up.value !== true) return '';
  const differs = differsFrom(look, declared);
  const line = look.speedMbps.value === undefined ? 'not told' : lineWords(look);
  return differs.length === 0 ? line : `${line}, declared ${differs.join(' ')}`;
}

function errorCell({ rates, look }: PortState): string {
  const perSecond = errorsPerSecond(rates);
  if (perSecond !== undefined) return rateWords(perSecond);
  const told =
    look !== undefined &&
    !isMissing(look) &&
    (look.counters.rxErrors.value !== undefined || look.counters.txErrors.value !== undefined);
  // With one look there is no rate yet; later the counters were set back.
  return told ? 'not yet known' : 'not told';
}

function offerCell({ up, partnerModes }: LiveLook): string {
  if (up.value === false) return '';
  return partnerModes.value === undefined ? 'not told' : offerWords(partnerModes);
}

function toneOf({ state, declared, lost }: BoardPort, paint: ReturnType<typeof paintFor>) {
  const { look } = state;
  if (lost !== undefined || look === undefined) return paint.unknown;
  if (isMissing(look) || look.up.value === undefined) return paint.unknown;
  return look.up.value && differsFrom(look, declared).length === 0 ? paint.plain : paint.wrong;
}

function widest(rows: readonly (readonly string[])[], at: number): number {
  return Math.max(...rows.map((cells) => columnsOf(cells[at] ?? '')));
}

function columnsThatFit(rows: readonly (readonly string[])[], room: number): readonly number[] {
  let kept: readonly number[] = titles.map((_, at) => at);
  for (const at of yielding) {
    const sum = kept.reduce((all, each) => all + widest(rows, each) + gapColumns, -gapColumns);
    if (sum <= room) break;
    kept = kept.filter((each) => each !== at);
  }
  return kept;
}
