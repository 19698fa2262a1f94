import { expect, it } from 'vitest';
import { readAsked } from '../../src/cli/collector-reading.ts';
import type { AskedNode } from '../../src/share/asked-node.ts';
import { fakeRun } from './fake-io.ts';

const vault: AskedNode = {
  version: 1,
  run: '5c6f3f4e-3f0e-4d6a-9a3e-0d1b2c3d4e5f',
  site: 'the depot',
  until: '2026-11-26T02:00:00.000Z',
  node: {
    name: 'vault',
    at: 'vault.office.example',
    access: [{ via: 'ssh', name: 'hosts', user: 'auditor' }],
    peerNames: [],
  },
  whereabouts: {},
  topics: [],
};

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
  await readAsked(vault, { intent: undefined, ends, readers, say }, io);
  return said;
}

it('says of a node what ended its reading, and nothing where all ended with the session', async () => {
  expect(await saidAtEndOf('node')).toEqual([
    'the depot: vault',
    expect.stringContaining('the depot: vault not read: it took longer than a collector has'),
  ]);
  expect(await saidAtEndOf('session')).toEqual(['the depot: vault']);
});
