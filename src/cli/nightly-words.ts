import type { Intent } from '../intent/types.ts';
import { fitPacketsMax } from '../probe/fit-types.ts';
import { clean } from '../report/layout.ts';

/** What an audit would send of its own, in lines; empty: nothing. */
export function nightlyWords(
  intent: Intent,
  commands: readonly { readonly command: string }[],
): string[] {
  const nightly = intent.paths.filter(({ fit }) => fit === 'nightly');
  if (nightly.length === 0) return [];
  return [
    '',
    'after the reading, since the intent asks for it (fit: nightly), one sender at a time:',
    ...nightly.map(({ name, from, to }) =>
      clean(
        `  ${name}: up to ${fitPacketsMax} echo requests in each direction between ${from.join(', ')} and ${to.join(', ')}, not to be fragmented`,
      ),
    ),
    '  by one script on the standard input of the same shell; it can run:',
    ...commands.map(({ command }) => clean(`    ${command}`)),
  ];
}
