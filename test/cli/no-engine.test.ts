import { realpathSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, it, vi } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { engineAdvice } from '../../src/history/engine-advice.ts';
import { ownFolder } from '../history/store.ts';
import { fakeRun, host, office } from './fake-io.ts';

// A machine on which neither binding can be loaded.
vi.mock('../../src/history/sqlite-engine.ts', () => ({ findEngine: () => undefined }));

const healthy = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };
// The packages of this checkout lie in its root, or where a link in it leads.
const words = engineAdvice(dirname(realpathSync('node_modules')));

it.each([
  ['audit', ['--changes']],
  ['history', []],
])('73 where no SQLite can be loaded, before anything is read: %s', async (command, argv) => {
  const store = join(ownFolder(), 'history.sqlite');
  const fake = fakeRun({ files: office, nodes: healthy });
  expect(await run([command, ...argv, '--store', store], fake.io)).toBe(73);
  expect([fake.stdout(), fake.stderr()]).toEqual(['', `${store}: ${words}\n`]);
  expect(fake.asked).toEqual([]);
});

it('an audit without a history needs none', async () => {
  const fake = fakeRun({ files: office, nodes: healthy });
  expect(await run(['audit'], fake.io)).toBe(0);
});
