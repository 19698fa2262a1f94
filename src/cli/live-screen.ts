import { columnsOf } from '../report/layout.ts';
import type { Out } from './io.ts';

/** Lines that scroll, and below them a board that is drawn anew in place. */
export interface Screen {
  /** Writes `lines` above the board and draws the board below them, in one write. */
  readonly show: (lines: readonly string[], board: readonly string[]) => void;
}

const up = (rows: number) => (rows === 0 ? '' : `\u001b[${rows}A`);
const eraseBelow = '\u001b[J';
const columnsDefault = 80;

/**
 * A screen on a terminal. It moves the cursor up and erases, and changes no mode of the terminal:
 * there is nothing to be put back, whatever ends the program.
 */
export function screenOn(out: Out): Screen {
  let drawn: readonly number[] = [];
  return {
    show: (lines, board) => {
      const width = out.columns ?? columnsDefault;
      // A window made narrower has broken the lines of the board anew.
      const rows = drawn.reduce((sum, columns) => sum + Math.max(1, Math.ceil(columns / width)), 0);
      drawn = board.map((line) => columnsOf(line));
      const text = [...lines, ...board].map((line) => `${line}\n`).join('');
      out.write(`${up(rows)}\r${eraseBelow}${text}`);
    },
  };
}
