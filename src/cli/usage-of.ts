import type { Argument, Command, Option } from 'commander';
import type {
  ArgumentUsage,
  CommandUsage,
  Offer,
  OptionUsage,
  ProgramUsage,
  ValueUsage,
} from '../usage/types.ts';

/** The whole command line as data, read off the definitions that parse it. */
export function usageOf(program: Command): ProgramUsage {
  return { name: program.name(), commands: commandsOf(program, []) };
}

function commandsOf(command: Command, path: readonly string[]): readonly CommandUsage[] {
  const help = command.createHelp();
  const children = help.visibleCommands(command);
  return [
    {
      path,
      about: command.description(),
      synopsis: command.usage(),
      arguments: command.registeredArguments.map(argumentOf),
      options: help
        .visibleOptions(command)
        .map((option) => optionOf(option, help.optionDescription(option))),
      after: textAfter(command),
      children: children.map((child) => child.name()),
    },
    ...children.flatMap((child) => commandsOf(child, [...path, child.name()])),
  ];
}

function argumentOf(argument: Argument): ArgumentUsage {
  const { description, required, variadic, argChoices } = argument;
  const name = argument.name();
  return {
    name,
    about: description,
    offer: offerOf(name, argChoices, description),
    required,
    variadic,
  };
}

function optionOf(option: Option, aboutWhole: string): OptionUsage {
  const { flags, description } = option;
  const value = takenBy(option);
  return {
    name: option.long ?? option.short ?? flags,
    flags,
    about: description,
    aboutWhole,
    ...(value === undefined ? {} : { value }),
  };
}

function takenBy(option: Option): ValueUsage | undefined {
  const { flags, required, optional, variadic, argChoices } = option;
  if (!required && !optional) return undefined;
  const name = /[<[]([^\].>]+)/.exec(flags)?.[1] ?? 'VALUE';
  return { name, offer: offerOf(name, argChoices), required, variadic };
}

/** An argument is named after its part, such as INTENT, so that its description says it is a file. */
function offerOf(name: string, choices: readonly string[] | undefined, about = ''): Offer {
  if (choices !== undefined) return { kind: 'words', words: choices };
  if (name === 'DIR') return { kind: 'folder' };
  if (name === 'FILE' || /\bfile\b/.test(about)) return { kind: 'file' };
  return { kind: 'nothing' };
}

/** The library tells what is added to a help only by printing it, behind the rest. */
function textAfter(command: Command): string {
  const usual = command.configureOutput();
  let whole = '';
  const writeOut = (text: string) => {
    whole += text;
  };
  command.configureOutput({ ...usual, writeOut });
  command.outputHelp();
  command.configureOutput(usual);
  return whole.slice(command.helpInformation().length).trim();
}
