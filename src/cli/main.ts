#!/usr/bin/env node
import { setMaxListeners } from 'node:events';
import { outOfFilesCode, outOfFilesWords } from '../facts/out-of-files.ts';
import { tooOldNode } from './node-age.ts';
import { toolVersion } from './tool-version.ts';

// Of the exit statuses, which are loaded later: an old Node must get as far as its one line.
const cannotWrite = 73;
const tooOld = tooOldNode(process.versions.node, process.execPath);

// Answered before anything else is loaded: asking for the version should cost nothing.
if (process.argv[2] === '--version') {
  process.stdout.write(`${toolVersion()}\n`);
} else if (tooOld !== undefined) {
  // Said before anything else is loaded, which an old Node fails to do in words of its own.
  process.stderr.write(`${tooOld}\n`);
  process.exitCode = 70;
} else {
  const interrupt = new AbortController();
  // Every node that is being read listens to it; Node would warn of a leak at the eleventh.
  setMaxListeners(0, interrupt.signal);
  process.once('SIGINT', () => {
    interrupt.abort();
    // A second one ends the process at once, whatever is still open.
    process.once('SIGINT', () => process.exit(130));
  });
  process.once('SIGTERM', () => interrupt.abort());
  // A reader of our output that goes away, as head does, is no fault. The run goes on to its end:
  // to stop here would end with 0 whatever was found. A full disk is one: what was found is not told.
  let untold = false;
  process.stdout.on('error', ({ code = 'unknown fault' }: NodeJS.ErrnoException) => {
    if (code === 'EPIPE' || untold) return;
    untold = true;
    process.exitCode = cannotWrite;
    process.stderr.write(
      `hopgauge: stdout: not written to its end (${code}); see that its disk has room, and run this again\n`,
    );
  });
  // Nobody is left to be told.
  process.stderr.on('error', () => undefined);
  try {
    const [{ run }, { processIo }] = await Promise.all([
      import('./run.ts'),
      import('./process-io.ts'),
    ]);
    const io = processIo(interrupt.signal, () => interrupt.abort());
    const status = await run(process.argv.slice(2), io);
    process.exitCode = untold ? cannotWrite : status;
  } catch (error) {
    // Node opens the files of many modules at one time.
    const code = outOfFilesCode(error);
    if (code === undefined) throw error;
    process.stderr.write(`hopgauge: ${outOfFilesWords(code)}\n`);
    process.exitCode = 78;
  }
}
