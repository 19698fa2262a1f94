import { pathKey } from './path-key.ts';
import type { CommandUsage, Offer, ProgramUsage, ValueUsage } from './types.ts';

/**
 * Completion for bash 4 or newer (`programmable completion` of its manual), without the help of any
 * package of completions. It walks the words before the cursor: which command they have reached,
 * which option still waits for its value, how many arguments were given.
 */
export function bashCompletion({ name, commands }: ProgramUsage): string {
  return `# Completion of ${name} for bash, made from its own command definitions.
_${name}_commands() {
  case "$1" in
${cases(commands, ({ children }) => children.join(' '))}
  esac
}

_${name}_options() {
  case "$1" in
${cases(commands, ({ options }) => options.map((option) => option.name).join(' '))}
  esac
}

# Of an option, or an argument by its place: its offer, marked ? where it may be left out.
_${name}_value() {
  case "$1" in
${commands.flatMap(valueCases).join('\n')}
  esac
}

_${name}_offer() {
  case "$1" in
    file) compopt -o default; COMPREPLY=() ;;
    folder) compopt -o dirnames -o nospace; COMPREPLY=() ;;
    words\\ *) COMPREPLY=($(compgen -W "\${1#words }" -- "$2")) ;;
  esac
}

_${name}() {
  local cur=\${COMP_WORDS[COMP_CWORD]} path='' given=0 value='' closed='' at word
  COMPREPLY=()
  for ((at = 1; at < COMP_CWORD; at++)); do
    word=\${COMP_WORDS[at]}
    if [[ $word == [=:]* ]]; then
      # bash cuts words at these: the part behind belongs to the word before.
      [[ $value && $word == = && $((at + 1)) -eq $COMP_CWORD ]] || { value=''; at=$((at + 1)); }
    elif [[ $value && ! ($value == *\\? && $word == -*) ]]; then
      value=''
    elif [[ $word == -- && ! $closed ]]; then
      value='' closed=yes
    elif [[ $word == -* && ! $closed ]]; then
      value=$(_${name}_value "$path $word")
    elif [[ $given -eq 0 && " $(_${name}_commands "$path") " == *" $word "* ]]; then
      path="$path/$word"
    else
      given=$((given + 1))
    fi
  done
  [[ $cur == = ]] && cur=''
  if [[ $value && ! ($value == *\\? && $cur == -*) ]]; then
    _${name}_offer "\${value%\\?}" "$cur"
  elif [[ $cur == -* && ! $closed ]]; then
    COMPREPLY=($(compgen -W "$(_${name}_options "$path")" -- "$cur"))
  else
    value=$(_${name}_value "$path $given")
    [[ $value ]] || value=$(_${name}_value "$path rest")
    word=$(_${name}_commands "$path")
    if [[ $given -eq 0 && $word ]]; then value="words $word"; fi
    _${name}_offer "\${value%\\?}" "$cur"
  fi
}

complete -F _${name} ${name}
`;
}

function cases(
  commands: readonly CommandUsage[],
  words: (command: CommandUsage) => string,
): string {
  return commands
    .filter((command) => words(command) !== '')
    .map((command) => `    '${pathKey(command)}') echo '${words(command)}' ;;`)
    .join('\n');
}

function valueCases(command: CommandUsage): readonly string[] {
  const path = pathKey(command);
  const ofOptions = command.options.flatMap(({ name, value }) =>
    value === undefined ? [] : [valueCase(`${path} ${name}`, value, !value.required)],
  );
  const ofArguments = command.arguments.map((argument, at) =>
    valueCase(`${path} ${argument.variadic ? 'rest' : at}`, argument, false),
  );
  return [...ofOptions, ...ofArguments];
}

function valueCase(key: string, { offer }: ValueUsage, mayBeLeftOut: boolean): string {
  return `    '${key}') echo '${offerWords(offer)}${mayBeLeftOut ? '?' : ''}' ;;`;
}

function offerWords(offer: Offer): string {
  return offer.kind === 'words' ? `words ${offer.words.join(' ')}` : offer.kind;
}
