import type { Rehearsal } from '../change/rehearsal.ts';
import { clean, padEnd, wrap } from './layout.ts';
import { labelColumns } from './remark-lines.ts';
import type { TextLook } from './text-look.ts';
import { leftOutWords, waysInWords } from './ways-words.ts';

/** Both ways of each segment whose MTU the change moves; nothing where it moves none. */
export function waysLines({ ways, waysLeftOut }: Rehearsal, look: TextLook): string[] {
  const labelled = (label: string, words: string) =>
    wrap(padEnd(label, labelColumns), clean(words), look.width);
  return [
    ...ways
      .map(waysInWords)
      .flatMap(({ title, ways: both, unread, paths }) => [
        ...wrap('', clean(title), look.width).map(look.paint.strong),
        ...both.flatMap(({ label, words }) => labelled(label, words)),
        ...(unread === undefined ? [] : labelled('not known', unread)),
        ...paths.flatMap((words) => labelled('carries', words)),
      ]),
    ...leftOutWords(waysLeftOut).flatMap((words) => wrap('', clean(words), look.width)),
  ];
}
