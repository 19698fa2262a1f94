import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { enrol } from '../../src/cli/enrol.ts';
import { fakeRun } from './fake-io.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'hopgauge-enrol-'));
});
afterAll(() => rm(folder, { recursive: true }));

const line = 'vault.office.example ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIE==';
const offerTo = (file: string) => ({
  node: 'vault',
  keyType: 'ssh-ed25519',
  fingerprint: 'SHA256:9Z1pQxq2vT7rJmYc0aFh8kLwEoUiNbSd3G5tRyXeZ4A',
  line,
  file,
});

describe('enrolling host keys', () => {
  const answers = [
    ['yes', 'yes', true, '1 recorded; run hopgauge access again\n'],
    ['yes with blanks', ' yes\n', true, '1 recorded; run hopgauge access again\n'],
    ['y', 'y', false, 'nothing recorded\n'],
    ['nothing', '', false, 'nothing recorded\n'],
    ['the end of input', undefined, false, 'nothing recorded\n'],
  ] as const;
  for (const [name, answer, recorded, said] of answers) {
    it(`${recorded ? 'records' : 'records nothing'} after ${name}`, async () => {
      const file = join(folder, `known ${name}`);
      const asked: string[] = [];
      const askLine = async (question: string) => {
        asked.push(question);
        return answer;
      };
      const fake = fakeRun({ terminal: true, io: { askLine } });
      await enrol([offerTo(file)], fake.io);
      expect(asked).toEqual(['record 1 of them? type yes: ']);
      expect(fake.stdout()).toContain('vault: ssh-ed25519 SHA256:9Z1pQxq2');
      expect(fake.stdout().endsWith(said)).toBe(true);
      const text = await readFile(file, 'utf8').catch(() => undefined);
      expect(text).toBe(recorded ? `${line}\n` : undefined);
    });
  }

  it('records nothing without a terminal', async () => {
    const file = join(folder, 'no terminal');
    const fake = fakeRun();
    await enrol([offerTo(file)], fake.io);
    expect(fake.stdout()).toContain('SHA256:9Z1pQxq2');
    expect(fake.stdout().endsWith('nothing recorded: that needs a yes on a terminal\n')).toBe(true);
    await expect(readFile(file, 'utf8')).rejects.toThrow('ENOENT');
  });
});
