import type { Intent } from '../intent/types.ts';
import { fitPacketsMax } from '../probe/fit-types.ts';
import { clean } from '../report/layout.ts';
import { shellWord } from '../schedule/shell-word.ts';

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

/**
 * What an audit by collectors does not do, in a line for each path: collectors read, and send no
 * packets of their own. `store` is where the audit keeps its history.
 */
export function collectedWords(
  paths: readonly string[],
  store: string | undefined,
): readonly string[] {
  const into = store === undefined ? '' : ` --store ${shellWord(store)}`;
  return paths.map((name) =>
    clean(
      `path ${name}: 'fit: nightly' is not run with --collect, since collectors only read; run hopgauge fit --path ${shellWord(name)}${into} where both ends can be reached, and audit with --changes, which takes what it kept`,
    ),
  );
}

/** Names of the paths whose intent says `fit: nightly`. */
export function nightlyPaths({ paths }: Intent): readonly string[] {
  return paths.filter(({ fit }) => fit === 'nightly').map(({ name }) => name);
}
