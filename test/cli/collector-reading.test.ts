import { expect, it } from 'vitest';
import { readAsked } from '../../src/cli/collector-reading.ts';
import { askedVault } from '../share/asked-vault.ts';
import { fakeRun } from './fake-io.ts';

/** What a collector says of a node that never answers, while the session or the time for it ends. */
async function saidAtEndOf(which: 'session' | 'node'): Promise<readonly string[]> {
  const session = new AbortController();
  const node = new AbortController();
  session.signal.addEventListener('abort', () => node.abort());
  const ending = { session, node };
  const read = () => {
    queueMicrotask(() => ending[which].abort());
    return new Promise<never>(() => {});
  };
  const said: string[] = [];
  const { io } = fakeRun({ io: { read } });
  const reader = { read, resolve: async () => undefined, close: () => {} };
  const ends = { session: session.signal, node: node.signal };
  const readers = { of: () => reader, close: () => {} };
  const say = (line: string) => void said.push(line);
  await readAsked(askedVault, { intent: undefined, ends, readers, say }, io);
  return said;
}

it('says of a node what ended its reading, and nothing where all ended with the session', async () => {
  expect(await saidAtEndOf('node')).toEqual([
    'the depot: vault',
    expect.stringContaining('the depot: vault not read: it took longer than a collector has'),
  ]);
  expect(await saidAtEndOf('session')).toEqual(['the depot: vault']);
});
