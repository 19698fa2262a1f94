import { spawn } from 'node:child_process';
import { lineCutter, type OpenTalk, type TalkEnd } from '../talk.ts';
import { searchPath } from './local-runner.ts';

const complaintLengthMax = 4096;

/** Begins talks with `sh -s` on this machine, with no environment of the operator's. */
export function localTalker(): OpenTalk {
  return ({ script, onLine, wholeMs, signal }) => {
    const shell = spawn('sh', ['-s'], {
      cwd: '/',
      // A group of its own: what runs there may end its whole group.
      detached: true,
      env: { PATH: searchPath, LC_ALL: 'C' },
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    let settle: (end: TalkEnd) => void = () => undefined;
    const ended = new Promise<TalkEnd>((resolve) => {
      settle = resolve;
    });
    let complaint = '';
    const end = (how: TalkEnd) => {
      clearTimeout(timer);
      signal.removeEventListener('abort', stop);
      settle(how);
      // What runs there ends by the end of its input.
      shell.stdin.destroy();
      shell.stdout.destroy();
    };
    const stop = () => end('stopped');
    const timer = setTimeout(stop, wholeMs);
    signal.addEventListener('abort', stop, { once: true });
    const add = lineCutter(onLine);
    shell.on('error', (error) => {
      complaint = error.message;
      end('lost');
    });
    shell.stdin.on('error', () => undefined);
    shell.stdout.on('data', (chunk: Buffer) => {
      if (!add(chunk)) end('overlong');
    });
    shell.stderr.on('data', (chunk: Buffer) => {
      complaint = (complaint + chunk.toString('utf8')).slice(0, complaintLengthMax);
    });
    shell.on('close', () => end('ended'));
    shell.stdin.write(script);
    const send = (text: string) => void shell.stdin.write(text);
    return Promise.resolve({ ok: true, talk: { send, stop, ended, complaint: () => complaint } });
  };
}
