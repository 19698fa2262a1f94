import { spawn } from 'node:child_process';
import type { ScriptStream, StreamEnd } from '../ssh/stream-script.ts';
import { killGroup, shellOptions } from './local-runner.ts';

/** Runs a script on this machine by `sh -s` and leaves its standard input open until the end. */
export function streamLocal({ script, onOutput, signal }: ScriptStream): Promise<StreamEnd> {
  return new Promise((resolve) => {
    if (signal.aborted) return resolve({ is: 'stopped' });
    const shell = spawn('sh', ['-s'], shellOptions);
    const finish = (end: StreamEnd) => {
      signal.removeEventListener('abort', onAbort);
      killGroup(shell);
      resolve(end);
    };
    const onAbort = () => finish({ is: 'stopped' });
    signal.addEventListener('abort', onAbort, { once: true });
    shell.on('error', (error) => finish({ is: 'refused', words: error.message }));
    shell.stdout.on('data', onOutput);
    shell.on('close', (code) =>
      finish({ is: 'ended', complaint: '', ...(code === null ? {} : { exitCode: code }) }),
    );
    // A shell that ends early closes the pipe; its end then tells.
    shell.stdin.on('error', () => {});
    shell.stdin.write(script);
    return undefined;
  });
}
