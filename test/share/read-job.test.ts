import { describe, expect, it } from 'vitest';
import type { PostgresDatabase } from '../../src/history/postgres-database.ts';
import { readingIn } from '../../src/share/answer.ts';
import { workOn } from '../../src/share/read-job.ts';
import type { WorkQueue } from '../../src/share/work-queue.ts';
import { askedVault } from './asked-vault.ts';

/** Works on one job on a server that gives every lock; gives what was said and answered. */
async function worked(data: unknown, now: string) {
  const said: string[] = [];
  const answers: unknown[] = [];
  const deps = {
    database: { run: async () => ({ rows: [{ taken: true }] }) } as unknown as PostgresDatabase,
    queue: {
      isActive: async () => true,
      complete: async (_: unknown, output: object) => answers.push(output) > 0,
    } as unknown as WorkQueue,
    name: 'gate:1',
    read: async () => {
      throw new Error('nobody may be asked');
    },
    now: () => new Date(now),
    stop: new AbortController().signal,
    say: (line: string) => {
      said.push(line);
    },
  };
  await workOn({ queue: 'survey', id: '1', data }, deps, deps.stop);
  return { said, answers };
}

describe('a job that is not read', () => {
  it('tells on both ends of a clock that is a day ahead', async () => {
    const { said, answers } = await worked(askedVault, '2026-11-27T02:00:00.000Z');
    const seen =
      'the audit waits until 2026-11-26T02:00:00.000Z, and the clock of its collector says 2026-11-27T02:00:00.000Z';
    expect(said).toEqual([expect.stringContaining(`the depot: vault not read: ${seen}; set the`)]);
    expect(answers).toHaveLength(1);
    expect(readingIn(answers[0], 'vault')?.readings[0]?.trouble?.seen).toBe(seen);
  });

  it('is told of where another version has asked for it', async () => {
    const { said, answers } = await worked({ ...askedVault, version: 2 }, askedVault.until);
    expect(said).toEqual([expect.stringContaining('run the same version of hopgauge everywhere')]);
    expect(answers).toEqual([{ by: 'gate:1' }]);
  });
});
