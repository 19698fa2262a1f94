import { cleanText } from '../../facts/clean-text.ts';
import type { Trouble } from '../../facts/trouble.ts';
import type { ReadLimits, ScriptOutcome, ShellKind } from '../types.ts';
import { remoteCommands, type ScriptEnd } from './exec-script.ts';
import { quoted, secondsText, troubleOf } from './trouble.ts';

/** What a script ran on, for its outcome and for messages. */
export interface ScriptContext {
  readonly where: string;
  /** Undefined where another program has verified it. */
  readonly hostKey: string | undefined;
  readonly shell: ShellKind;
  readonly limits: ReadLimits;
}

/** What a script's end means: its output, or the trouble. */
export function scriptOutcome(end: ScriptEnd, context: ScriptContext): ScriptOutcome {
  if (end.is === 'ended') {
    const trouble = shellTrouble(end, context);
    if (trouble !== undefined) return { ok: false, trouble };
    const complaint = cleanText(end.complaint);
    return {
      ok: true,
      output: end.output,
      ...(context.hostKey === undefined ? {} : { hostKey: context.hostKey }),
      ...(context.shell === 'sh' ? {} : { shell: context.shell }),
      ...(end.exitCode === undefined ? {} : { exitCode: end.exitCode }),
      ...(complaint === '' ? {} : { complaint }),
    };
  }
  const trouble = endTrouble(end, context);
  if (end.is !== 'time' || end.bytes === 0) return { ok: false, trouble };
  const { hostKey, shell } = context;
  const came = {
    output: end.output,
    ...(hostKey === undefined ? {} : { hostKey }),
    ...(shell === 'sh' ? {} : { shell }),
  };
  return { ok: false, trouble, came };
}

type Ended = Extract<ScriptEnd, { is: 'ended' }>;

/** The script itself always ends with 0: a shell that fails and prints nothing has not run it. */
function shellTrouble(end: Ended, { where, shell }: ScriptContext): Trouble | undefined {
  if (end.exitSignal !== undefined) {
    const seen = `the shell on ${where} was ended by ${quoted(end.exitSignal)} after ${end.output.length} bytes`;
    return troubleOf('truncated', seen, 'look into the log of the host, then run it again');
  }
  if (end.exitCode === undefined || end.exitCode === 0 || end.output.length > 0) return undefined;
  const words = end.complaint.trim() === '' ? 'nothing' : quoted(end.complaint);
  const seen = `the login shell on ${where} ended with status ${end.exitCode} and printed ${words}`;
  return troubleOf('shell-refused', seen, shellRemedies[shell]);
}

/** What to do where the shell of a host does not run what it is sent. */
export const shellRemedies: Readonly<Record<ShellKind, string>> = {
  sh: 'give the account a shell that runs `sh -s`, or the script of hopgauge access --print-script as a forced command',
  powershell:
    'let the account run powershell; where its shell is a POSIX one, write ssh: { system: unix } for it in the intent',
};

function endTrouble(
  end: Exclude<ScriptEnd, Ended>,
  { where, shell, limits }: ScriptContext,
): Trouble {
  switch (end.is) {
    case 'refused': {
      const seen = `${where} let the user in and refused to run \`${remoteCommands[shell]}\`: ${quoted(end.words)}`;
      return troubleOf('shell-refused', seen, shellRemedies[shell]);
    }
    case 'overlong': {
      const seen = `${where} printed more than ${limits.outputBytesMax} bytes`;
      return troubleOf('overlong', seen, 'look at what its start files and forced command print');
    }
    case 'lost': {
      const seen = `the connection to ${where} was lost after ${end.bytes} bytes of output`;
      return troubleOf('truncated', seen, 'run it again; look into the log of the host');
    }
    case 'time': {
      const seen = `${where} did not finish within ${secondsText(limits.wholeMs)}; ${end.bytes} bytes had come`;
      // Not `time-over`: a node that let us in is there, and may not be excused as asleep.
      return troubleOf('truncated', seen, 'see what keeps the host busy, or raise the time limit');
    }
  }
}
