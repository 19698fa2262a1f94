import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import type { NodeReading } from '../../src/collect/types.ts';
import { ownFolder } from '../history/store.ts';
import { fakeRun, host, office } from './fake-io.ts';

const change = 'change: 1\nabout: storage to 9000\nsegments: { storage: { mtu: 9000 } }\n';
const files = { ...office, 'change.yaml': change };
const small = { 'plot-1': host('en7', 1500), vault: host('eth4', 1500) };
const away = { 'plot-1': host('en7', 1500) };

/** A store with these nights, from the 24th of November on. */
async function storeOf(
  ...nights: readonly Readonly<Record<string, NodeReading>>[]
): Promise<string> {
  const store = join(ownFolder(), 'history.sqlite');
  for (const [at, nodes] of nights.entries()) {
    const now = () => new Date(Date.UTC(2026, 10, 24 + at, 2));
    await run(['audit', '--changes', '--store', store], fakeRun({ files, nodes, io: { now } }).io);
  }
  return store;
}

/** Nothing answers any more: what is told comes from the history. */
async function rehearsed(argv: readonly string[]) {
  const fake = fakeRun({ files, nodes: {} });
  const status = await run(['rehearse', ...argv], fake.io);
  return { status, stdout: fake.stdout(), stderr: fake.stderr() };
}

describe('rehearse --last-read', () => {
  it('rehearses on the last night, with nothing read', async () => {
    const store = await storeOf(small);
    const { status, stdout } = await rehearsed(['change.yaml', '--last-read', '--store', store]);
    expect(stdout).toContain('2 steps, worked out from the segments');
    expect(stdout).toContain('on what was read 2026-11-24 02:00 UTC');
    expect(status).toBe(0);
  });

  it('takes of a node that was away what was read of it before, and says when', async () => {
    const store = await storeOf(small, away);
    const { stdout, stderr } = await rehearsed(['change.yaml', '--last-read', '--store', store]);
    expect(stdout).toContain('vault:eth4: mtu 1500 to 9000');
    expect(stderr).toContain('read earlier than the rest: vault 2026-11-24 02:00 UTC');
  });

  it.each([
    [['change.yaml', '--store', 'h.sqlite'], 64, '--store has no use without --last-read; add it'],
    [
      ['change.yaml', '--last-read', '--survey', 'tuesday.json'],
      64,
      '--survey and --last-read both say on what to rehearse: leave one of the two out',
    ],
    [['--last-read'], 64, '--last-read has no use without a change'],
  ])('refuses %j', async (argv, status, words) => {
    const told = await rehearsed(argv);
    expect(told.status).toBe(status);
    expect(told.stderr).toContain(words);
  });

  it('says where nothing is kept', async () => {
    const none = join(ownFolder(), 'none.sqlite');
    const told = await rehearsed(['change.yaml', '--last-read', '--store', none]);
    expect(told.status).toBe(73);
    expect(told.stderr).toContain(none);
  });
});
