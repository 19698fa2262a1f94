import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { checkStore } from '../../src/history/keep-store.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { readAudits, readTimeline } from '../../src/history/read-timeline.ts';
import { takeRunLock } from '../../src/history/run-lock.ts';
import { eachNight, ownFolder } from './store.ts';

const script = join(import.meta.dirname, 'write-until-killed.ts');
const site = eachNight(0).site;

/** Lets a process write nights and ends it with SIGKILL after a random time; gives the last said. */
async function writeAndKill(file: string, from: number, afterMs: number): Promise<number> {
  const child = spawn(process.execPath, ['--import', 'tsx', script, file, String(from)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let said = from - 1;
  const lines = createInterface({ input: child.stdout });
  const started = once(lines, 'line');
  const ended = once(lines, 'close');
  lines.on('line', (line) => {
    said = Number(line);
  });
  await started;
  await wait(afterMs);
  child.kill('SIGKILL');
  // All that it said, and not only what was read before its end.
  await ended;
  return said;
}

/** Numbers below 1 that are the same in every run (a linear congruence). */
function makeRandom(): () => number {
  let state = 9;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

describe('a store whose writer is killed', () => {
  it('is sound and has whole nights alone, at each of many random moments', async () => {
    const file = join(ownFolder(), 'history.sqlite');
    const random = makeRandom();
    let next = 0;
    for (let kill = 0; kill < 12; kill += 1) {
      const said = await writeAndKill(file, next, Math.floor(random() * 120));
      const store = await openStore(file);
      expect(await checkStore(store)).toEqual([]);
      const { known, open, lastAt } = await readPast(store, site);
      const audits = await readAudits(store, site);
      const last = audits[0]?.told ?? -1;
      // What was said to be done is there; the night after it may be, whole or not at all.
      expect(last === said || last === said + 1).toBe(true);
      expect(lastAt).toBe(eachNight(last).startedAt);
      expect(known.get('quay-sw')).toEqual(eachNight(last).known[0]);
      expect(open.map(({ what }) => what)).toEqual([`night ${last}`]);
      const { events } = await readTimeline(store, { site, since: eachNight(last).startedAt });
      expect(events.map(({ kind }) => kind).sort()).toEqual([
        'changed',
        ...(last === 0 ? [] : ['cleared']),
        'found',
        'grown',
      ]);
      await store.close();
      next = last + 1;
    }
    expect(next).toBeGreaterThan(100);
  }, 120_000);

  it('leaves no lock behind', async () => {
    const file = join(ownFolder(), 'history.sqlite');
    const holder = `import { takeRunLock } from '${join(import.meta.dirname, '../../src/history/run-lock.ts')}';
      takeRunLock(process.argv[1]); console.log('held'); setInterval(() => {}, 1000);`;
    const child = spawn(
      process.execPath,
      ['--import', 'tsx', '--input-type=module', '-e', holder, file],
      { stdio: ['ignore', 'pipe', 'inherit'] },
    );
    await once(child.stdout, 'data');
    expect(() => takeRunLock(file)).toThrow('another audit is running on it');
    child.kill('SIGKILL');
    await once(child, 'close');
    takeRunLock(file).release();
  }, 30_000);
});
