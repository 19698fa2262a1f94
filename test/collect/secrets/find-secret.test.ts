import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeFindSecret, type SecretPlaces } from '../../../src/collect/secrets/find-secret.ts';
import { makeSecret } from '../../../src/collect/secrets/secret.ts';

const canary = 'canary-77-ebb';
const ownerId = process.getuid?.() ?? 0;

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'hopgauge-secrets-'));
  file = join(folder, 'secrets');
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe('makeFindSecret', () => {
  const refusals: string[] = [];
  const asked: string[] = [];
  beforeEach(() => {
    refusals.length = 0;
    asked.length = 0;
  });
  const places = (more: Partial<SecretPlaces> = {}): SecretPlaces => ({
    env: {},
    file,
    ownerId,
    onRefusal: (refusal) => refusals.push(refusal),
    ...more,
  });
  const ask = async (question: string) => {
    asked.push(question);
    return makeSecret('from a person');
  };
  const values = async (found: SecretPlaces, ...names: string[]) => {
    const find = makeFindSecret(found);
    return Promise.all(names.map(async (name) => (await find(name))?.reveal()));
  };

  it('looks in the environment, then in the file, then asks', async () => {
    writeFileSync(file, 'A=from the file\nB=from the file\n', { mode: 0o600 });
    const found = await values(places({ env: { A: 'from the environment' }, ask }), 'A', 'B', 'C');
    expect(found).toEqual(['from the environment', 'from the file', 'from a person']);
    expect(asked).toEqual(['secret C (not shown)']);
  });

  it('takes an empty variable for none', async () => {
    writeFileSync(file, 'A=from the file\n', { mode: 0o600 });
    expect(await values(places({ env: { A: '' } }), 'A')).toEqual(['from the file']);
  });

  it('is undefined where nobody has it, and nobody is there to ask', async () => {
    expect(await values(places(), 'A')).toEqual([undefined]);
  });

  it('asks for each name once, whoever waits for it', async () => {
    expect(await values(places({ ask }), 'A', 'A', 'B', 'A')).toEqual(
      Array(4).fill('from a person'),
    );
    expect(asked).toEqual(['secret A (not shown)', 'secret B (not shown)']);
  });

  it('tells once of a file that is not to be trusted, and uses nothing of it', async () => {
    writeFileSync(file, `A=${canary}\n`);
    chmodSync(file, 0o644);
    expect(await values(places(), 'A', 'B')).toEqual([undefined, undefined]);
    expect(refusals).toEqual([
      `${file}: mode 0644 lets others at the secrets; run: chmod 600 ${file}`,
    ]);
  });

  it('does not open the file while the environment has all', async () => {
    writeFileSync(file, 'A=1\n');
    chmodSync(file, 0o644);
    expect(await values(places({ env: { A: '2' } }), 'A')).toEqual(['2']);
    expect(refusals).toEqual([]);
  });
});
