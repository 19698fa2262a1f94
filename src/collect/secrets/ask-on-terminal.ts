import { StringDecoder } from 'node:string_decoder';
import type { Secret } from '../types.ts';
import { makeSecret } from './secret.ts';

/** Puts a question to a person and takes a hidden answer; undefined when there is no answer. */
export type AskSecret = (question: string) => Promise<Secret | undefined>;

/** Longest answer that is taken, in characters. */
export const answerLengthMax = 1024;

/** The two ends of a terminal, and what an interrupt does. */
export interface Terminal {
  readonly input: NodeJS.ReadableStream & {
    readonly isTTY?: boolean;
    setRawMode?(raw: boolean): unknown;
  };
  readonly output: NodeJS.WritableStream & { readonly isTTY?: boolean };
  /** Called when the person interrupts: the run is to end. */
  readonly interrupt: () => void;
}

/**
 * Asks on the terminal without echo, one question at a time; undefined when either stream is not
 * a terminal, so that nothing ever waits for an answer under cron.
 */
export function askOnTerminal(terminal: Terminal): AskSecret | undefined {
  const { input, output } = terminal;
  if (input.isTTY !== true || output.isTTY !== true) return undefined;
  if (input.setRawMode === undefined) return undefined;
  let last: Promise<unknown> = Promise.resolve();
  return (question) => {
    const answer = last.then(() => askOnce(terminal, question));
    last = answer.catch(() => undefined);
    return answer;
  };
}

function askOnce(terminal: Terminal, question: string): Promise<Secret | undefined> {
  const { input, output } = terminal;
  output.write(`${question}: `);
  input.setRawMode?.(true);
  return new Promise((resolve) => {
    let typed: readonly string[] = [];
    // A character may come in two chunks.
    const decoder = new StringDecoder('utf8');
    const finish = (answer: Secret | undefined) => {
      input.removeListener('data', onData);
      input.removeListener('end', onEnd);
      input.setRawMode?.(false);
      // Else the terminal would keep the process alive.
      input.pause();
      output.write('\n');
      resolve(answer);
    };
    const onEnd = () => finish(undefined);
    const onData = (chunk: string | Buffer) => {
      for (const key of decoder.write(Buffer.from(chunk))) {
        const step = typeKey(typed, key);
        if (step === 'interrupt') terminal.interrupt();
        if (step === 'interrupt' || step === 'none') return finish(undefined);
        if (step === 'done') {
          return finish(typed.length > 0 ? makeSecret(typed.join('')) : undefined);
        }
        typed = step;
      }
    };
    input.on('data', onData);
    input.on('end', onEnd);
    input.resume();
  });
}

type Step = readonly string[] | 'done' | 'none' | 'interrupt';

function typeKey(typed: readonly string[], key: string): Step {
  if (key === '\r' || key === '\n') return 'done';
  if (key === '\u0003') return 'interrupt';
  if (key === '\u0004') return 'none';
  if (key === '\u007f' || key === '\b') return typed.slice(0, -1);
  if (key === '\u0015') return [];
  return key < ' ' || typed.length >= answerLengthMax ? typed : [...typed, key];
}
