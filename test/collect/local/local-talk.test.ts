import { describe, expect, it } from 'vitest';
import { localTalk } from '../../../src/collect/local/local-talk.ts';

/** Begins a talk and waits until it has said so many bytes. */
async function begin(script: string, bytes: number) {
  const stop = new AbortController();
  let said = '';
  let heard: () => void = () => undefined;
  const enough = new Promise<void>((resolve) => {
    heard = resolve;
  });
  const onOutput = (chunk: Uint8Array) => {
    said += Buffer.from(chunk).toString('utf8');
    if (said.length >= bytes) heard();
  };
  const outcome = await localTalk({ script, onOutput, signal: stop.signal });
  if (!outcome.ok) throw new Error(outcome.trouble.seen);
  return { talk: outcome.talk, stop: () => stop.abort(), said: () => said, enough };
}

describe('a talk on this machine', () => {
  it('hears what is said later, and ends by itself with its first words of complaint', async () => {
    const script = 'echo asked; read -r word; echo "heard $word"; echo oops >&2; exit 3\n';
    const { talk, said, enough } = await begin(script, 'asked\n'.length);
    await enough;
    talk.send('quay\n');
    expect(await talk.ended).toBe('ended');
    expect(said()).toBe('asked\nheard quay\n');
    expect(talk.complaint()).toBe('oops\n');
  });

  it('leaves nothing that runs once it is stopped', async () => {
    const { talk, stop, said, enough } = await begin('sleep 300 & echo "$! "; wait\n', 2);
    await enough;
    const sleeper = Number(said());
    expect(process.kill(sleeper, 0)).toBe(true);
    stop();
    expect(await talk.ended).toBe('stopped');
    // Who has been killed stays in the list of processes until its new parent has seen it.
    await expect.poll(() => isThere(sleeper), { timeout: 5000 }).toBe(false);
  });

  it('does not begin for a run that is stopped', async () => {
    const start = { script: 'echo no\n', onOutput: () => expect.unreachable() };
    expect((await localTalk({ ...start, signal: AbortSignal.abort() })).ok).toBe(false);
  });
});

function isThere(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}
