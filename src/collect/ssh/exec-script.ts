import type { ClientChannel } from 'ssh2';
import { scriptFor } from '../script-for.ts';
import type { HostScript, ReadLimits, ShellKind } from '../types.ts';
import type { Session } from './door-steps.ts';
import type { RunClock } from './run-clock.ts';

/**
 * The only commands that are ever asked of a host, one of them and once. The script comes by its
 * standard input. Both mean the same to every login shell; that of Windows to cmd and to PowerShell.
 */
export const remoteCommands: Readonly<Record<ShellKind, string>> = {
  sh: 'sh -s',
  powershell: 'powershell -NoProfile -NonInteractive -Command -',
};

/** Bytes of standard error that are kept; what follows is counted and dropped. */
export const complaintBytesMax = 4_096;

/** How a script on a host ended. Exit status and signal are absent where the host gave none. */
export type ScriptEnd =
  | {
      readonly is: 'ended';
      readonly output: Uint8Array;
      readonly complaint: string;
      readonly exitCode?: number;
      readonly exitSignal?: string;
    }
  | { readonly is: 'refused'; readonly words: string }
  | { readonly is: 'overlong' }
  | { readonly is: 'lost'; readonly bytes: number }
  | { readonly is: 'time'; readonly bytes: number; readonly output: Uint8Array };

/** A script to be run in a session, within limits. */
export interface ScriptRun {
  readonly session: Session;
  readonly script: HostScript;
  readonly limits: ReadLimits;
  readonly clock: RunClock;
}

/** Runs one script over a session, which has nothing left to do afterwards. Never throws. */
export function execScript({ session, script, limits, clock }: ScriptRun): Promise<ScriptEnd> {
  return new Promise((resolve) => {
    const pile = createPile(limits.outputBytesMax);
    let lost = false;
    let exit: { exitCode?: number; exitSignal?: string } = {};
    let done = false;
    const finish = (end: ScriptEnd) => {
      if (done) return;
      done = true;
      clock.signal.removeEventListener('abort', onAbort);
      // Whatever is still on its way is not waited for.
      if (end.is !== 'ended') session.destroy();
      resolve(end);
    };
    const onAbort = () => finish({ is: 'time', bytes: pile.bytes(), output: pile.output() });
    const onLost = () => {
      lost = true;
      // The channel closes by itself when its exit status has come already.
      setImmediate(() => finish({ is: 'lost', bytes: pile.bytes() }));
    };
    const onClose = () => {
      const known = exit.exitCode !== undefined || exit.exitSignal !== undefined;
      if (lost && !known) finish({ is: 'lost', bytes: pile.bytes() });
      else finish({ is: 'ended', output: pile.output(), complaint: pile.complaint(), ...exit });
    };
    const onChannel = (channel: ClientChannel) => {
      channel.on('error', () => undefined);
      channel.on('exit', (code: number | null, signal?: string) => {
        exit = code === null ? { exitSignal: signal ?? 'unknown' } : { exitCode: code };
      });
      channel.on('data', (chunk: Buffer) => {
        if (!done && !pile.add(chunk)) finish({ is: 'overlong' });
      });
      // Unread, it would fill its window and stop the host for ever.
      channel.stderr.on('data', (chunk: Buffer) => {
        if (!done && !pile.complain(chunk)) finish({ is: 'overlong' });
      });
      channel.on('close', onClose);
      channel.end(scriptFor(script, session.shell));
    };
    session.client.on('error', () => undefined);
    session.client.on('close', onLost);
    if (clock.signal.aborted) return onAbort();
    clock.signal.addEventListener('abort', onAbort);
    try {
      askShell(session, (error, channel) => {
        if (error === undefined) return onChannel(channel);
        return lost ? onLost() : finish({ is: 'refused', words: error.message });
      });
    } catch {
      onLost();
    }
    return undefined;
  });
}

/**
 * Asks for the one command of a session: the only place where anything is asked of a host.
 *
 * @throws where the connection is gone
 */
export function askShell(
  session: Session,
  done: (error: Error | undefined, channel: ClientChannel) => void,
): void {
  session.client.exec(remoteCommands[session.shell], done);
}

function createPile(bytesMax: number) {
  const chunks: Buffer[] = [];
  const complaints: Buffer[] = [];
  let bytes = 0;
  let complaintBytes = 0;
  return {
    bytes: () => bytes,
    output: () => Buffer.concat(chunks, bytes),
    complaint: () => Buffer.concat(complaints).subarray(0, complaintBytesMax).toString('utf8'),
    add: (chunk: Buffer): boolean => {
      bytes += chunk.length;
      if (bytes > bytesMax) return false;
      chunks.push(chunk);
      return true;
    },
    complain: (chunk: Buffer): boolean => {
      if (complaintBytes < complaintBytesMax) complaints.push(chunk);
      complaintBytes += chunk.length;
      return complaintBytes <= bytesMax;
    },
  };
}
