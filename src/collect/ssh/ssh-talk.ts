import type { ClientChannel } from 'ssh2';
import type { Trouble } from '../../facts/trouble.ts';
import type { OpenTalk, Talk, TalkEnd, TalkOutcome, TalkStart } from '../talk.ts';
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
    const clock = startClock(defaultReadLimits, start.signal);
    try {
      const opened = await openSession({ target, deps, clock, waiting: [] });
      if (!opened.ok) return { ok: false, trouble: opened.trouble };
      const { session } = opened;
      if (session.shell === 'sh') return await talkOver(session, start, target.at);
      session.destroy();
      const seen = `${target.at} runs Windows, which has neither perl, python3 nor nc of its own`;
      return { ok: false, trouble: troubleOf('shell-refused', seen, 'measure from other hosts') };
    } finally {
      clock.stop();
    }
  };
}

/**
 * Begins a talk over a session, which has nothing left to do afterwards. Never throws.
 *
 * @param where - the host, for messages
 */
export function talkOver(session: Session, start: TalkStart, where: string): Promise<TalkOutcome> {
  const { client } = session;
  return new Promise((resolve) => {
    const settle = (outcome: TalkOutcome) => {
      client.removeListener('close', onLost);
      start.signal.removeEventListener('abort', onLost);
      if (!outcome.ok) session.destroy();
      resolve(outcome);
    };
    const onLost = () => settle({ ok: false, trouble: lost(where) });
    client.on('error', () => undefined);
    client.on('close', onLost);
    start.signal.addEventListener('abort', onLost);
    if (start.signal.aborted) return onLost();
    try {
      askShell(session, (error, channel) => {
        if (error !== undefined) return settle({ ok: false, trouble: refused(where, error) });
        return settle({ ok: true, talk: talkIn(channel, session, start) });
      });
    } catch {
      onLost();
    }
    return undefined;
  });
}

function talkIn(
  channel: ClientChannel,
  session: Session,
  { script, onOutput, signal }: TalkStart,
): Talk {
  let complaint = '';
  let over = false;
  const ended = new Promise<TalkEnd>((resolve) => {
    const end = (how: TalkEnd) => {
      over = true;
      signal.removeEventListener('abort', onAbort);
      session.destroy();
      resolve(how);
    };
    const onAbort = () => end('stopped');
    signal.addEventListener('abort', onAbort);
    let exited = false;
    let lost = false;
    channel.on('exit', () => {
      exited = true;
    });
    // A connection that is lost closes the channel, too; one whose shell has ended says so before.
    channel.on('close', () => end(lost && !exited ? 'lost' : 'ended'));
    session.client.on('close', () => {
      lost = true;
      setImmediate(() => end('lost'));
    });
  });
  channel.on('error', () => undefined);
  channel.on('data', (chunk: Buffer) => {
    if (!over) onOutput(chunk);
  });
  // Unread, it would fill its window and stop the host for ever.
  channel.stderr.on('data', (chunk: Buffer) => {
    complaint = (complaint + chunk.toString('utf8')).slice(0, complaintBytesMax);
  });
  channel.write(script);
  return { send: (text) => void channel.write(text), ended, complaint: () => complaint };
}

function refused(where: string, { message }: Error): Trouble {
  const seen = `${where} let the user in and refused to run \`${remoteCommands.sh}\`: ${quoted(message)}`;
  const remedy = 'give the account a shell that runs `sh -s`; a forced command cannot';
  return troubleOf('shell-refused', seen, remedy);
}

function lost(where: string): Trouble {
  const remedy = 'look whether it is on, and whether the way to it was what was unplugged';
  return troubleOf('truncated', `the connection to ${where} was lost`, remedy);
}
