import type { ClientChannel } from 'ssh2';
import { lineCutter, type OpenTalk, type Talk, type TalkEnd, type TalkStart } from '../talk.ts';
import { defaultReadLimits } from '../types.ts';
import type { Session } from './door-steps.ts';
import { askShell, complaintBytesMax, remoteCommands } from './exec-script.ts';
import { openSession } from './open-session.ts';
import { startClock } from './run-clock.ts';
import type { SshDeps } from './ssh-deps.ts';
import type { SshTarget } from './ssh-target.ts';
import { quoted, troubleOf } from './trouble.ts';

/** Begins talks with one host over SSH: a connection and one `sh -s` for each. */
export function sshTalker(target: SshTarget, deps: SshDeps): OpenTalk {
  return async (start) => {
    const { connectMs, outputBytesMax } = defaultReadLimits;
    const limits = { connectMs, wholeMs: start.wholeMs, outputBytesMax };
    const clock = startClock(limits, start.signal);
    const opened = await openSession({ target, deps, clock, waiting: [] });
    if (!opened.ok) {
      clock.stop();
      return { ok: false, trouble: opened.trouble };
    }
    const { session } = opened;
    if (session.shell !== 'sh') {
      session.destroy();
      clock.stop();
      const seen = `${target.at} runs Windows, which has neither perl, python3 nor nc of its own`;
      return { ok: false, trouble: troubleOf('shell-refused', seen, 'measure from other hosts') };
    }
    const begun = await begin(session, start);
    if (typeof begun === 'string') {
      session.destroy();
      clock.stop();
      const seen = `${target.at} let the user in and refused to run \`${remoteCommands.sh}\`: ${quoted(begun)}`;
      const remedy = 'give the account a shell that runs `sh -s`; a forced command cannot';
      return { ok: false, trouble: troubleOf('shell-refused', seen, remedy) };
    }
    if (clock.signal.aborted) begun.stop();
    clock.signal.addEventListener('abort', begun.stop);
    begun.ended.then(clock.stop, clock.stop);
    return { ok: true, talk: begun };
  };
}

/** The talk, or the words with which the server refused it. */
function begin(session: Session, start: TalkStart): Promise<Talk | string> {
  return new Promise((resolve) => {
    session.client.on('error', () => undefined);
    session.client.on('close', () => resolve('the connection was lost'));
    try {
      askShell(session, (error, channel) => {
        if (error !== undefined) return resolve(error.message);
        return resolve(talkOver(session, channel, start));
      });
    } catch {
      resolve('the connection was lost');
    }
  });
}

function talkOver(session: Session, channel: ClientChannel, start: TalkStart): Talk {
  let settle: (end: TalkEnd) => void = () => undefined;
  const ended = new Promise<TalkEnd>((resolve) => {
    settle = resolve;
  });
  let complaint = '';
  let exited = false;
  const end = (how: TalkEnd) => {
    settle(how);
    session.destroy();
  };
  const add = lineCutter(start.onLine);
  channel.on('error', () => undefined);
  channel.on('exit', () => {
    exited = true;
  });
  channel.on('data', (chunk: Buffer) => {
    if (!add(chunk)) end('overlong');
  });
  channel.stderr.on('data', (chunk: Buffer) => {
    complaint = (complaint + chunk.toString('utf8')).slice(0, complaintBytesMax);
  });
  channel.on('close', () => end(exited ? 'ended' : 'lost'));
  session.client.on('close', () => end(exited ? 'ended' : 'lost'));
  channel.write(start.script);
  return {
    send: (text) => void channel.write(text),
    stop: () => end('stopped'),
    ended,
    complaint: () => complaint,
  };
}
