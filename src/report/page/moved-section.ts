import { movedGroups, movedWords } from '../moved-words.ts';
import { timeWords } from '../summary-line.ts';
import { toldMoves } from '../told-moves.ts';
import type { AuditResult } from '../types.ts';
import { type Markup, markup } from './markup.ts';

/** What cleared and what moved since the audit before; absent: no history, or nothing did. */
export function movedSection({ moved, site }: AuditResult): Markup | undefined {
  if (moved === undefined || moved.first) return undefined;
  const { lastAt, settlement, changes } = moved;
  const cleared = settlement.cleared.map(
    ({ what, subject, since }) => `${subject.id}: ${what}; was there since ${timeWords(since)}`,
  );
  const told = movedGroups(toldMoves(changes, site)).map((group) => movedWords(group, lastAt));
  if (cleared.length + told.length === 0) return undefined;
  // One fill: blanks at the ends of a fill are dropped.
  const heading =
    lastAt === undefined ? 'What moved' : `What moved since the audit of ${timeWords(lastAt)}`;
  return markup`<section id="moved" aria-labelledby="moved-head"><h2 id="moved-head">${heading}</h2>${list('Cleared', cleared)}${list('Moved', told)}</section>`;
}

function list(heading: string, lines: readonly string[]): Markup | undefined {
  if (lines.length === 0) return undefined;
  return markup`<h3>${heading}</h3><ul>${lines.map((line) => markup`<li>${line}</li>`)}</ul>`;
}
