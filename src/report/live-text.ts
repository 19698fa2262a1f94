import { isMissing, type PortChange } from '../probe/live-types.ts';
import { clean } from './layout.ts';
import type { BoardPort } from './live-board.ts';
import { changeWords, clockWords, type DeclaredLine, stateWords } from './live-words.ts';

/** One line of a live run: when, whose, what. */
export interface LiveLine {
  readonly atMs: number;
  /** Node, or `node:port`. */
  readonly of: string;
  readonly words: string;
}

/** `02:13:07 store:eth1 link down` */
export function liveLine({ atMs, of, words }: LiveLine): string {
  return `${clockWords(atMs)} ${clean(of)} ${words}`;
}

/** The line of a change. */
export function changeLine(id: string, change: PortChange, declared: DeclaredLine): LiveLine {
  return { atMs: change.atMs, of: id, words: changeWords(change, declared) };
}

/** What changed in the whole run, a line for each port, and how it stands at the end. */
export function liveSummary(
  ports: readonly BoardPort[],
  run: { readonly seconds: number; readonly ended: string },
): readonly string[] {
  return [
    `${run.ended} after ${run.seconds} s:`,
    ...ports.map((port) => `  ${clean(port.id)} ${portSummary(port)}`),
  ];
}

function portSummary({ state, declared, lost }: BoardPort): string {
  const { look, linkChanges, errors } = state;
  if (look === undefined) return 'gave no answer yet';
  const moved = linkChanges === 0 ? 'no change of the link' : timesWords(linkChanges);
  const frames = errors === 0 ? '' : `, ${errors} frames with errors`;
  const last = isMissing(look) ? `no such port: ${clean(look.words)}` : stateWords(look, declared);
  const when = lost === undefined ? 'now' : 'when it was last heard,';
  return `${moved}${frames}; ${when} ${last}`;
}

function timesWords(times: number): string {
  return times === 1 ? '1 change of the link' : `${times} changes of the link`;
}
