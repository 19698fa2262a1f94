import { bold, italic, roff, roffParagraphs } from './roff.ts';
import type { ArgumentUsage, CommandUsage, OptionUsage, ProgramUsage } from './types.ts';

/** What a man page says that the command line does not know of itself. */
export interface ManFrame {
  readonly version: string;
  /** Of the release, as 2026-11-26. */
  readonly date: string;
  /** One line on what the program is, without a full stop. */
  readonly title: string;
}

/** Where the help of the program begins to speak of its exit status. */
const exitMark = 'Exit status: ';

/** The man page of the program, section 1, in the macros of man(7). */
export function manPage(
  { name, commands }: ProgramUsage,
  { version, date, title }: ManFrame,
): string {
  const [program, ...others] = commands;
  if (program === undefined) return '';
  const [before = '', exit = ''] = program.after.split(exitMark);
  const lines = [
    `.\\" Made from the command definitions of ${name}.`,
    `.TH ${name.toUpperCase()} 1 "${date}" "${name} ${version}" "User Commands"`,
    // Words to copy must not be cut at the end of a line.
    '.nh',
    '.ad l',
    '.SH NAME',
    `${roff(name)} \\- ${roff(title)}`,
    '.SH SYNOPSIS',
    others.map((command) => calledAs(name, command)).join('\n.br\n'),
    '.SH DESCRIPTION',
    roff(program.about),
    ...roffParagraphs(before),
    '.SH OPTIONS',
    ...program.options.flatMap(optionLines),
    '.SH COMMANDS',
    ...others.flatMap((command) => commandLines(name, command)),
    ...(exit === '' ? [] : ['.SH EXIT STATUS', roff(exit)]),
    '.SH SEE ALSO',
    '.BR ssh (1),',
    '.BR ssh_config (5)',
  ];
  return `${lines.join('\n')}\n`;
}

function calledAs(name: string, { path, synopsis }: CommandUsage): string {
  return `${bold([name, ...path].join(' '))} ${roff(synopsis)}`;
}

function commandLines(name: string, command: CommandUsage): readonly string[] {
  return [
    `.SS ${[name, ...command.path].join(' ')}`,
    calledAs(name, command),
    '.PP',
    roff(command.about),
    ...command.arguments.flatMap(argumentLines),
    ...command.options.flatMap(optionLines),
    ...roffParagraphs(command.after),
  ];
}

function argumentLines({ name, about, offer }: ArgumentUsage): readonly string[] {
  const words = offer.kind === 'words' ? `: ${offer.words.join(', ')}` : '';
  return ['.TP', italic(name), roff(`${about}${words}`)];
}

function optionLines({ flags, aboutWhole }: OptionUsage): readonly string[] {
  const [, option = flags, value = ''] = /^(\S+)(.*)$/.exec(flags) ?? [];
  return ['.TP', `${bold(option)}${roff(value)}`, roff(aboutWhole)];
}
