import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { keepProofs } from '../../src/cli/keep-proofs.ts';
import { run } from '../../src/cli/run.ts';
import { RunFault } from '../../src/cli/run-fault.ts';
import type { FitProof, TransferProof } from '../../src/facts/proof.ts';
import { loadSurvey } from '../../src/facts/saved-survey.ts';
import { readProofs } from '../../src/history/kept-proofs.ts';
import { openStore } from '../../src/history/open-store.ts';
import { ownFolder } from '../history/store.ts';
import { makeIntent } from '../site/builders.ts';
import { fakeRun, host, office } from './fake-io.ts';

const there = { from: 'plot-1', to: 'vault', toAddress: '198.18.20.2' };
const fitAt = (at: string, provenMtuBytes: number): FitProof => ({ ...there, at, provenMtuBytes });
const early = fitAt('2026-11-25T03:00:00.000Z', 1500);
const late = fitAt('2026-11-25T04:00:00.000Z', 9000);
const transfer: TransferProof = {
  ...there,
  at: '2026-11-25T04:00:10.000Z',
  ...{ tookSeconds: 10, bytes: 11_750_000_000, streams: 1, goodputMbps: 9400 },
};
const intent = makeIntent({ nodes: { 'plot-1': {}, vault: {} } });
const nodes = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };

async function savedSurvey() {
  const fake = fakeRun({ files: office, nodes });
  await run(['survey', '--out', 'tuesday.json'], fake.io);
  return fake;
}

function surveyIn(text: string | undefined) {
  const loaded = loadSurvey(text ?? '', 'tuesday.json');
  if (!loaded.ok) throw new Error(loaded.message);
  return loaded.survey;
}

describe('results that are kept in a saved survey', () => {
  it('are the newest of each direction, and all else stays as it was', async () => {
    const fake = await savedSurvey();
    const before = surveyIn(fake.files.get('tuesday.json'));
    const into = { into: 'tuesday.json' };
    await keepProofs({ fits: [late], transfers: [transfer] }, into, fake.io);
    await keepProofs({ fits: [early], transfers: [] }, into, fake.io);
    expect(surveyIn(fake.files.get('tuesday.json'))).toEqual({
      ...before,
      fits: [late],
      transfers: [transfer],
    });
  });

  it('leave out what is between no two nodes of it, and say so', async () => {
    const fake = await savedSurvey();
    const before = fake.files.get('tuesday.json');
    const typed = { ...late, from: 'here', to: '198.18.20.2' };
    await keepProofs({ fits: [typed], transfers: [] }, { into: 'tuesday.json' }, fake.io);
    expect(fake.files.get('tuesday.json')).toBe(before);
    expect(fake.stderr()).toBe(
      '1 of 1 results are not kept: the survey tuesday.json does not have both ends; name nodes of the intent\n',
    );
  });

  it('are none where nothing was tried to its end, and that is said', async () => {
    const fake = await savedSurvey();
    const before = fake.files.get('tuesday.json');
    await keepProofs({ fits: [], transfers: [] }, { into: 'tuesday.json' }, fake.io);
    expect(fake.files.get('tuesday.json')).toBe(before);
    expect(fake.stderr()).toBe(
      'tuesday.json: nothing is kept, since nothing was tried to its end\n',
    );
  });

  it('end the run where there is no such survey, or it cannot be written', async () => {
    const fake = await savedSurvey();
    const proofs = { fits: [late], transfers: [] };
    await expect(keepProofs(proofs, { into: 'monday.json' }, fake.io)).rejects.toThrow(RunFault);
    fake.files.set('/nowhere/it.json', fake.files.get('tuesday.json') ?? '');
    await expect(keepProofs(proofs, { into: '/nowhere/it.json' }, fake.io)).rejects.toMatchObject({
      lines: ['/nowhere/it.json: its folder does not exist'],
    });
  });
});

describe('that it was kept', () => {
  const keep = async (quiet: boolean) => {
    const fake = await savedSurvey();
    const store = join(ownFolder(), 'history.sqlite');
    const where = { into: 'tuesday.json', store, intent, quiet };
    await keepProofs({ fits: [late], transfers: [] }, where, fake.io);
    return { stderr: fake.stderr(), store };
  };
  it('is said of each place', async () => {
    const { stderr, store } = await keep(false);
    expect(stderr).toBe(`kept in tuesday.json\nkept in ${store}\n`);
  });

  it('is not said with --quiet', async () => {
    expect((await keep(true)).stderr).toBe('');
  });
});

describe('results that are kept in a history', () => {
  it('stand there under the site of the intent', async () => {
    const store = join(ownFolder(), 'history.sqlite');
    const { io } = fakeRun();
    await keepProofs({ fits: [late], transfers: [transfer] }, { store, intent }, io);
    await keepProofs({ fits: [early], transfers: [] }, { store, intent }, io);
    const database = await openStore(store, { existing: true });
    const kept = await readProofs(database, { site: intent.site, since: '' });
    const none = await readProofs(database, { site: 'the depot', since: '' });
    await database.close();
    expect(kept).toEqual({ fits: [late], transfers: [transfer] });
    expect(none).toEqual({ fits: [], transfers: [] });
  });

  it('need an intent', async () => {
    const { io } = fakeRun();
    await expect(
      keepProofs({ fits: [late], transfers: [] }, { store: 'h.sqlite' }, io),
    ).rejects.toMatchObject({
      lines: ['--store keeps by site and there is no intent; give --intent FILE'],
    });
  });
});
