import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { openStore } from '../../src/history/open-store.ts';
import { writeNight } from '../../src/history/write-night.ts';
import { nightOf, ownFolder } from '../history/store.ts';
import { fakeRun, office } from './fake-io.ts';

/** The 24th was complete, the 25th was not; each began at 02:00 and took 9 s. */
async function storeOf(complete: boolean): Promise<string> {
  const file = join(ownFolder(), 'history.sqlite');
  const store = await openStore(file);
  await writeNight(store, nightOf(24, { complete }));
  await writeNight(store, nightOf(25, { complete: false, nodesRead: 3 }));
  await store.close();
  return file;
}

describe('history --complete-within', () => {
  const rows = [
    [
      '0: within',
      true,
      '2026-11-25T04:00:09Z',
      '26h',
      0,
      'last complete audit 2026-11-24 02:00 UTC\n',
    ],
    [
      '1: a moment too long ago',
      true,
      '2026-11-25T04:00:10Z',
      '26h',
      1,
      'last complete audit 2026-11-24 02:00 UTC, wanted within 26h; the last one, 2026-11-25 02:00 UTC, read 3 of 5 nodes; look at the timer and at its log\n',
    ],
    [
      '1: never',
      false,
      '2026-11-25T04:00:00Z',
      '26h',
      1,
      'no audit was ever complete, wanted within 26h; ',
    ],
  ] as const;
  for (const [name, complete, now, age, status, said] of rows) {
    it(name, async () => {
      const store = await storeOf(complete);
      const fake = fakeRun({ files: office, io: { now: () => new Date(now) } });
      const argv = ['history', '--store', store, '--complete-within', age];
      expect([await run(argv, fake.io), fake.stderr()]).toEqual([status, '']);
      expect(fake.stdout().startsWith(said)).toBe(true);
    });
  }

  it('64 for no age', async () => {
    const fake = fakeRun({ files: office });
    const argv = ['history', '--store', await storeOf(true), '--complete-within', '26'];
    expect(await run(argv, fake.io)).toBe(64);
    expect(fake.stderr()).toBe("--complete-within: '26' is no age; write 90s, 30m, 26h or 14d\n");
  });
});
