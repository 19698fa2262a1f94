import type {
  ArgumentUsage,
  CommandUsage,
  Offer,
  OptionUsage,
  ProgramUsage,
  ValueUsage,
} from './types.ts';

/**
 * Completion for zsh (`_arguments` of its manual zshcompsys). It may be a file `_NAME` of a folder of
 * `fpath`, or be read by `source` after `compinit`.
 */
export function zshCompletion({ name, commands }: ProgramUsage): string {
  return `#compdef ${name}
# Completion of ${name} for zsh, made from its own command definitions.

${commands.map((command) => functionOf(command, name, commands)).join('\n')}
if [ "$funcstack[1]" = "_${name}" ]; then
  _${name} "$@"
else
  compdef _${name} ${name}
fi
`;
}

function functionOf(
  command: CommandUsage,
  name: string,
  commands: readonly CommandUsage[],
): string {
  const specs = [
    ...command.options.map(optionSpec),
    ...(command.children.length > 0
      ? ["'1:command:->command'", "'*::argument:->rest'"]
      : command.arguments.map(argumentSpec)),
  ];
  const call = `  _arguments -S ${command.children.length > 0 ? '-C ' : ''}\\\n${specs
    .map((spec) => `    ${spec}`)
    .join(' \\\n')}`;
  const body = command.children.length > 0 ? `${call}\n${choice(command, name, commands)}` : call;
  return `${functionName(name, command.path)}() {
  local curcontext="$curcontext" state line
  typeset -A opt_args
${body}
}
`;
}

function choice(command: CommandUsage, name: string, commands: readonly CommandUsage[]): string {
  const children = command.children.map((child) => {
    const path = [...command.path, child];
    const about = commands.find((each) => each.path.join(' ') === path.join(' '))?.about ?? '';
    return { child, path, about };
  });
  const described = children.map(({ child, about }) => quoted(`${colons(child)}:${about}`));
  const calls = children.map(
    ({ child, path }) => `        ${child}) ${functionName(name, path)} ;;`,
  );
  return `  case $state in
    command)
      local -a commands=(
${described.map((line) => `        ${line}`).join('\n')}
      )
      _describe command commands
      ;;
    rest)
      case $words[1] in
${calls.join('\n')}
      esac
      ;;
  esac`;
}

function functionName(name: string, path: readonly string[]): string {
  return ['', name, ...path].join('_');
}

/** Each may be given again: the definitions do not say which of them may not. */
function optionSpec({ name, about, value }: OptionUsage): string {
  const described = `[${colons(about).replace(/[[\]]/g, '\\$&')}]`;
  if (value === undefined) return quoted(`${name}${described}`);
  // A value that may be left out is offered behind a '=' alone: else nothing could follow a space.
  const [join, marks] = value.required ? ['=', ':'] : ['=-', '::'];
  return quoted(`*${name}${join}${described}${marks}${valueSpec(value)}`);
}

function argumentSpec(argument: ArgumentUsage): string {
  if (argument.variadic) return quoted(`*:${valueSpec(argument)}`);
  return quoted(`${argument.required ? ':' : '::'}${valueSpec(argument)}`);
}

function valueSpec({ name, offer }: ValueUsage): string {
  return `${colons(name)}:${action(offer)}`;
}

function action(offer: Offer): string {
  if (offer.kind === 'words') return `(${offer.words.join(' ')})`;
  return { file: '_files', folder: '_path_files -/', nothing: ' ' }[offer.kind];
}

function colons(text: string): string {
  return text.replace(/[\\:]/g, '\\$&');
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}
