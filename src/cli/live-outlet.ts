import { type Board, boardLines } from '../report/live-board.ts';
import { changeJson, nodeJson } from '../report/live-json.ts';
import { changeLine, liveLine } from '../report/live-text.ts';
import type { Io } from './io.ts';
import type { News } from './live-book.ts';
import { screenOn } from './live-screen.ts';
import { textLook } from './write-result.ts';

/** Where the news of a live run go. */
export interface LiveOutlet {
  readonly tell: (news: readonly News[]) => void;
  /** Draws the board where there is one. */
  readonly draw: () => void;
  /** Takes the board away and writes the last lines. */
  readonly end: (lines: readonly string[]) => void;
}

/** What an outlet is made of. */
export interface OutletOptions {
  readonly format: 'text' | 'jsonl';
  readonly bell: boolean;
  readonly board: () => Board;
}

const bellCharacter = '\u0007';
const heightDefault = 24;

/** Lines for a pipe, JSON for a program, a board below the lines for a terminal. */
export function liveOutlet(io: Io, { format, bell, board }: OutletOptions): LiveOutlet {
  const { stdout } = io;
  if (format === 'jsonl') {
    return {
      tell: (news) => stdout.write(news.map((one) => `${jsonOf(one)}\n`).join('')),
      draw: () => {},
      end: () => {},
    };
  }
  const write = (lines: readonly string[]) =>
    stdout.write(lines.map((line) => `${line}\n`).join(''));
  if (!stdout.isTerminal || io.env['TERM'] === 'dumb') {
    return { tell: (news) => write(news.map(lineOf)), draw: () => {}, end: write };
  }
  const screen = screenOn(stdout);
  const drawn = () =>
    boardLines(board(), { ...textLook(undefined, io), height: stdout.rows ?? heightDefault });
  return {
    tell: (news) => {
      if (news.length === 0) return;
      screen.show(news.map(lineOf), drawn());
      if (bell && news.some(rings)) stdout.write(bellCharacter);
    },
    draw: () => screen.show([], drawn()),
    end: (lines) => screen.show(lines, []),
  };
}

function lineOf(one: News): string {
  if (one.is === 'port') return liveLine(changeLine(one.port.id, one.change, one.port.declared));
  return liveLine({ atMs: one.news.atMs, of: one.node, words: one.news.words });
}

function jsonOf(one: News): string {
  if (one.is === 'port') return changeJson(one.port.id, one.change, one.port.declared);
  return nodeJson(one.node, one.news);
}

/** What was there from the beginning is no change. */
function rings(one: News): boolean {
  return one.is === 'node' || one.change.kind !== 'first';
}
