import { createInterface } from 'node:readline/promises';
import { fileURLToPath } from 'node:url';
import { askOnTerminal } from '../collect/secrets/ask-on-terminal.ts';
import { makeFindSecret } from '../collect/secrets/find-secret.ts';
import { defaultSecretsPath } from '../collect/secrets/secrets-file.ts';
import { cleanText } from '../facts/clean-text.ts';
import { savedSurveyBytesMax } from '../facts/saved-survey.ts';
import type { AskLine, Io, Out } from './io.ts';
import { ownAccount } from './own-account.ts';
import { textFileReader } from './read-text-file.ts';
import { settledOn, writerTo } from './whole-writes.ts';
import { canWriteFile, makeOwnFolder, writeFileWhole } from './write-file.ts';

/** The real process as an `Io`; `abort` ends the run when the operator interrupts a question. */
export function processIo(signal: AbortSignal, abort: () => void): Io {
  const { env, stdin, stdout, stderr } = process;
  const askSecret = askOnTerminal({ input: stdin, output: stderr, interrupt: abort });
  const askLine = stdin.isTTY && stderr.isTTY ? lineAsker(signal) : undefined;
  const own = ownAccount(env);
  return {
    stdout: Object.assign(outOf(stdout), {
      gone: goneSignal(stdout),
      settled: settledOn(stdout),
    }),
    stderr: outOf(stderr),
    env,
    now: () => new Date(),
    signal,
    readTextFile: textFileReader(),
    readSurveyFile: textFileReader(savedSurveyBytesMax),
    writeFile: writeFileWhole,
    canWriteFile,
    makeFolder: makeOwnFolder,
    workingFolder: process.cwd(),
    policiesFolder: fileURLToPath(new URL('../../policies/', import.meta.url)),
    own,
    program: [process.execPath, ...process.argv.slice(1, 2)],
    ...(askLine === undefined ? {} : { askLine }),
    ...(askSecret === undefined ? {} : { askSecret }),
    findSecret: makeFindSecret({
      env,
      file: env['HOPGAUGE_SECRETS'] ?? defaultSecretsPath(env, own.home),
      ownerId: process.getuid?.() ?? -1,
      ask: askSecret,
      onRefusal: (refusal) => stderr.write(`hopgauge: ${cleanText(refusal, 1000)}\n`),
    }),
  };
}

function outOf(stream: NodeJS.WriteStream & { readonly fd: number }): Out {
  return {
    write: writerTo(stream),
    isTerminal: stream.isTTY === true,
    // Read anew each time: a window changes its size.
    get columns() {
      return stream.columns;
    },
    get rows() {
      return stream.rows;
    },
  };
}

/** Aborts once what is written to a stream finds no reader. */
function goneSignal(stream: NodeJS.WriteStream): AbortSignal {
  const gone = new AbortController();
  stream.on('error', () => gone.abort());
  return gone.signal;
}

function lineAsker(signal: AbortSignal): AskLine {
  return async (question) => {
    const lines = createInterface({ input: process.stdin, output: process.stderr });
    try {
      return await lines.question(question, { signal });
    } catch {
      // An end of input or an interrupt is no answer.
      return undefined;
    } finally {
      lines.close();
    }
  };
}
