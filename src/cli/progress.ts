import type { Out } from './io.ts';

/** One line on a terminal that is rewritten as work goes on. */
export interface Progress {
  readonly show: (text: string) => void;
  /** Takes the line away; to be called before anything else is written. */
  readonly clear: () => void;
}

const eraseLine = '\r\u001b[K';
const columnsDefault = 80;

/** Progress on `out`; silent where `out` is no terminal, is a dumb one, or `quiet` is asked for. */
export function progressOn(
  out: Out,
  { quiet, env }: { quiet: boolean; env: Readonly<Record<string, string | undefined>> },
): Progress {
  if (quiet || !out.isTerminal || env['TERM'] === 'dumb') {
    return { show: () => {}, clear: () => {} };
  }
  let shown = '';
  return {
    show: (text) => {
      // The text is ours and plain, so a character is a column; a full line would wrap.
      const line = text.slice(0, (out.columns ?? columnsDefault) - 1);
      if (line === shown) return;
      shown = line;
      out.write(`${eraseLine}${line}`);
    },
    clear: () => {
      if (shown === '') return;
      shown = '';
      out.write(eraseLine);
    },
  };
}
