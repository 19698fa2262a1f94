import { spawn } from 'node:child_process';
import type { OpenTalk, TalkEnd } from '../talk.ts';
import { killGroup, noShell, shellOptions, stopped } from './local-runner.ts';

const complaintLengthMax = 4096;

/** Begins a talk with `sh -s` on this machine, with no environment of the operator's. */
export const localTalk: OpenTalk = ({ script, onOutput, signal }) =>
  new Promise((resolve) => {
    if (signal.aborted) return resolve({ ok: false, trouble: stopped });
    const shell = spawn('sh', ['-s'], { ...shellOptions, stdio: ['pipe', 'pipe', 'pipe'] });
    let complaint = '';
    const ended = new Promise<TalkEnd>((settle) => {
      const end = (how: TalkEnd) => {
        signal.removeEventListener('abort', onAbort);
        killGroup(shell);
        settle(how);
      };
      const onAbort = () => end('stopped');
      signal.addEventListener('abort', onAbort);
      shell.on('close', () => end('ended'));
    });
    shell.on('error', (error) => resolve({ ok: false, trouble: noShell(error) }));
    shell.stdout.on('data', onOutput);
    shell.stderr.on('data', (chunk: Buffer) => {
      complaint = (complaint + chunk.toString('utf8')).slice(0, complaintLengthMax);
    });
    // A shell that ends early closes the pipe; its end then tells.
    shell.stdin.on('error', () => undefined);
    shell.stdin.write(script);
    const send = (text: string) => void shell.stdin.write(text);
    shell.on('spawn', () =>
      resolve({ ok: true, talk: { send, ended, complaint: () => complaint } }),
    );
    return undefined;
  });
