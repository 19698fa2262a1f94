import type { ClientChannel } from 'ssh2';
import type { Session } from './door-steps.ts';
import { complaintBytesMax, remoteCommands } from './exec-script.ts';

/** How a script ended whose output was taken as it came. */
export type StreamEnd =
  | { readonly is: 'ended'; readonly exitCode?: number; readonly complaint: string }
  | { readonly is: 'refused'; readonly words: string }
  | { readonly is: 'lost' }
  /** By the signal. */
  | { readonly is: 'stopped' };

/** A script that runs until its standard input ends. */
export interface ScriptStream {
  readonly script: string;
  readonly onOutput: (chunk: Uint8Array) => void;
  /** Ends the script's input and the connection. */
  readonly signal: AbortSignal;
}

/** Runs a script over a session and leaves its standard input open until the end. Never throws. */
export function streamScript(
  session: Session,
  { script, onOutput, signal }: ScriptStream,
): Promise<StreamEnd> {
  return new Promise((resolve) => {
    let exitCode: number | undefined;
    let complaint = '';
    let done = false;
    const finish = (end: StreamEnd) => {
      if (done) return;
      done = true;
      signal.removeEventListener('abort', onAbort);
      session.destroy();
      resolve(end);
    };
    const onAbort = () => finish({ is: 'stopped' });
    // The channel closes by itself when its exit status has come already.
    const onLost = () => setImmediate(() => finish({ is: 'lost' }));
    const onChannel = (channel: ClientChannel) => {
      channel.on('error', () => undefined);
      channel.on('exit', (code: number | null) => {
        exitCode = code ?? undefined;
      });
      channel.on('data', (chunk: Buffer) => {
        if (!done) onOutput(chunk);
      });
      channel.stderr.on('data', (chunk: Buffer) => {
        if (complaint.length < complaintBytesMax) complaint += chunk.toString('utf8');
      });
      channel.on('close', () =>
        finish({ is: 'ended', complaint, ...(exitCode === undefined ? {} : { exitCode }) }),
      );
      channel.write(script);
    };
    session.client.on('error', () => undefined);
    session.client.on('close', onLost);
    if (signal.aborted) return onAbort();
    signal.addEventListener('abort', onAbort);
    try {
      session.client.exec(remoteCommands[session.shell], (error, channel) => {
        if (error === undefined) return onChannel(channel);
        return finish({ is: 'refused', words: error.message });
      });
    } catch {
      onLost();
    }
    return undefined;
  });
}
