/** What a shell may offer for a value. `nothing`: only its owner knows what to type. */
export type Offer =
  | { readonly kind: 'words'; readonly words: readonly string[] }
  | { readonly kind: 'file' | 'folder' | 'nothing' };

/** The value of an option, or an argument of a command. */
export interface ValueUsage {
  /** As the help names it: `FILE`. */
  readonly name: string;
  readonly offer: Offer;
  /** Whether it must be given: of an option, where the option is; of an argument, always. */
  readonly required: boolean;
  /** Whether all that follows is of it too. */
  readonly variadic: boolean;
}

/** An argument of a command, in its place. */
export interface ArgumentUsage extends ValueUsage {
  readonly about: string;
}

/** An option of a command. */
export interface OptionUsage {
  /** With its dashes: `--least`. */
  readonly name: string;
  /** As the help prints it: `--least <SEVERITY>`. */
  readonly flags: string;
  readonly about: string;
  /** The same with its choices and its default. */
  readonly aboutWhole: string;
  /** Absent: it takes none. */
  readonly value?: ValueUsage;
}

/** One command of the command line, or the program itself. */
export interface CommandUsage {
  /** Its words after the name of the program; empty for the program itself. */
  readonly path: readonly string[];
  readonly about: string;
  /** What follows its name in the line that says how to call it: `[options] [INTENT]`. */
  readonly synopsis: string;
  readonly arguments: readonly ArgumentUsage[];
  readonly options: readonly OptionUsage[];
  /** What its help prints after the options: examples, exit status. */
  readonly after: string;
  /** The last words of the commands below it. */
  readonly children: readonly string[];
}

/** A whole command line: the program itself first, then its commands in the order of the help. */
export interface ProgramUsage {
  readonly name: string;
  readonly commands: readonly CommandUsage[];
}
