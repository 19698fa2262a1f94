import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { takeRunLock } from '../../src/history/run-lock.ts';
import { killedWriter } from './killed.ts';
import { faultsOf, lastNumber } from './night-writer.ts';
import { ownFolder } from './store.ts';

/** `KILLS=120` tries more often; the lab does. */
const kills = Number(/^[1-9]\d{0,3}$/.exec(process.env['KILLS'] ?? '')?.[0] ?? 8);

it(`${kills} writers that are killed leave whole nights, and no lock`, {
  timeout: 20_000 + kills * 5_000,
}, async () => {
  const file = join(ownFolder(), 'history.sqlite');
  let nights = 0;
  let opened = 0;
  for (let kill = 0; kill < kills; kill += 1) {
    const said = await killedWriter(file, Math.random);
    if (said !== '') {
      opened += 1;
      expect(said).toBe(`{"open":${nights}}\n`);
    }
    const store = await openStore(file);
    expect(await faultsOf(store), `after kill ${kill}, at night ${nights}`).toEqual([]);
    const now = lastNumber(await readPast(store, 'Saltmarsh survey office'));
    expect(now).toBeGreaterThanOrEqual(nights);
    nights = now;
    takeRunLock(file).release();
    await store.close();
  }
  // Else nothing was tried.
  expect(opened).toBeGreaterThanOrEqual(kills / 2);
  expect(nights).toBeGreaterThanOrEqual(kills);
});
