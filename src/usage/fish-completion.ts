import { pathKey } from './path-key.ts';
import type { CommandUsage, Offer, ProgramUsage, ValueUsage } from './types.ts';

/** Completion for fish 3 (`complete` of its manual), a file of its folder `completions`. */
export function fishCompletion({ name, commands }: ProgramUsage): string {
  const paths = commands.filter(({ path }) => path.length > 0).map(pathKey);
  return `# Completion of ${name} for fish, made from its own command definitions.
function __${name}_at -a wanted
    set -l reached ''
    for word in (commandline -opc)[2..-1]
        if contains -- "$reached/$word" ${paths.join(' ')}
            set reached "$reached/$word"
        end
    end
    test "$reached" = "$wanted"
end

complete -c ${name} -f
${commands.flatMap((command) => linesOf(command, name, commands)).join('\n')}
`;
}

function linesOf(
  command: CommandUsage,
  name: string,
  commands: readonly CommandUsage[],
): readonly string[] {
  const start = `complete -c ${name} -n ${quoted(`__${name}_at '${pathKey(command)}'`)}`;
  const children = command.children.map((child) => {
    const key = `${pathKey(command)}/${child}`;
    const about = commands.find((each) => pathKey(each) === key)?.about ?? '';
    return `${start} -a ${quoted(child)} -d ${quoted(about)}`;
  });
  const args = command.arguments.flatMap(({ offer }) =>
    offer.kind === 'nothing' ? [] : [`${start} ${offered(offer, '')}`],
  );
  const options = command.options.map((option) => {
    const value = option.value === undefined ? '' : ` ${valued(option.value)}`;
    return `${start} -l ${option.name.replace(/^--/, '')}${value} -d ${quoted(option.about)}`;
  });
  return [...children, ...args, ...options];
}

/** A value that may be left out is not asked for: fish knows such a value only behind a `=`. */
function valued({ offer, required }: ValueUsage): string {
  return required ? offered(offer, '-r ') : offered(offer, '');
}

function offered(offer: Offer, needs: string): string {
  if (offer.kind === 'words') return `${needs}-f -a ${quoted(offer.words.join(' '))}`;
  const more = { file: '-F', folder: "-f -a '(__fish_complete_directories)'", nothing: '-f' };
  return `${needs}${more[offer.kind]}`;
}

/** Inside its single quotes fish knows two escapes: of the quote and of the backslash. */
function quoted(text: string): string {
  return `'${text.replace(/[\\']/g, '\\$&')}'`;
}
