import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { FitWanted, Io } from '../../src/cli/io.ts';
import { run } from '../../src/cli/run.ts';
import type { NodeReading } from '../../src/collect/types.ts';
import type { FitProof } from '../../src/facts/proof.ts';
import { ownFolder } from '../history/store.ts';
import { fakeRun, host, twoHosts } from './fake-io.ts';

const routed = (device: string, to: string) => ({ routes: [{ to, device }] });
const addressed = (port: string, own: string, to: string): NodeReading => {
  const reading = host(port, 9000, routed(device(port), to));
  const [only] = reading.ports;
  if (only === undefined) throw new Error('a host has a port');
  return { ...reading, ports: [{ ...only, facts: { ...only.facts, addresses: [`${own}/24`] } }] };
};
const device = (port: string) => port;
const nodes = {
  'plot-1': addressed('en7', '198.18.20.1', '198.18.20.2'),
  vault: addressed('eth4', '198.18.20.2', '198.18.20.1'),
};
const files = {
  'hopgauge.yaml': twoHosts
    .replace('over: storage }', 'over: storage, fit: nightly }')
    .replace('policies: [own.yaml]', 'policies: [jumbo, proven]'),
};

/** A pair that passes this much both ways; it writes down what it was asked for. */
function passing(bytes: number, asked: FitWanted[], at: string): NonNullable<Io['fit']> {
  return async (wanted) => {
    asked.push(wanted);
    return wanted.directions.map(
      ({ from, to, toAddress }): FitProof => ({
        ...{ from: from.name, to: to.name, toAddress, at },
        provenMtuBytes: Math.min(bytes, wanted.declaredBytes ?? bytes),
        ...(bytes < (wanted.declaredBytes ?? 0) ? { lostBytes: wanted.declaredBytes } : {}),
      }),
    );
  };
}

const night = '2026-11-25T02:00:00.000Z';
const ways = (asked: readonly FitWanted[]) =>
  asked.map(({ directions, declaredBytes }) => [
    declaredBytes,
    ...directions.map(({ from, to, toAddress }) => `${from.name} to ${to.name} at ${toAddress}`),
  ]);

describe('an audit of paths with a nightly fit', () => {
  it('tries each direction once, to the address that the reading found, and judges by it', async () => {
    const asked: FitWanted[] = [];
    const fake = fakeRun({ files, nodes, io: { fit: passing(9000, asked, night) } });
    expect(await run(['audit'], fake.io)).toBe(0);
    expect(ways(asked)).toEqual([
      [9000, 'plot-1 to vault at 198.18.20.2', 'vault to plot-1 at 198.18.20.1'],
    ]);
    expect(fake.stdout()).toContain('tried plot-1 to vault and back, 2026-11-25: 9000 bytes pass');
  });

  it('finds what every setting hides', async () => {
    const fake = fakeRun({ files, nodes, io: { fit: passing(1500, [], night) } });
    expect(await run(['audit'], fake.io)).toBe(1);
    const words = fake.stdout().replace(/\s+/g, ' ');
    expect(words).toContain('does not pass the declared 9000 bytes');
    expect(words).toContain('2026-11-25: 1500 bytes pass, 9000 do not');
  });

  it('asks nothing of a node that gave no answer, and says so once', async () => {
    const asked: FitWanted[] = [];
    const away = { 'plot-1': nodes['plot-1'] };
    const fake = fakeRun({ files, nodes: away, io: { fit: passing(9000, asked, night) } });
    expect(await run(['audit'], fake.io)).toBe(2);
    expect(asked).toEqual([]);
    expect(fake.stdout()).not.toContain('never run');
  });

  it('tries nothing where nobody asks, and nothing for a saved survey', async () => {
    const asked: FitWanted[] = [];
    const io = { fit: passing(9000, asked, night) };
    const plain = { 'hopgauge.yaml': twoHosts.replace('[own.yaml]', '[jumbo, proven]') };
    expect(await run(['audit'], fakeRun({ files: plain, nodes, io }).io)).toBe(0);
    const fake = fakeRun({ files, nodes, io });
    await run(['survey', '--out', 'tuesday.json'], fake.io);
    expect(await run(['audit', '--survey', 'tuesday.json'], fake.io)).toBe(2);
    expect(asked).toEqual([]);
    expect(fake.stdout()).toContain('never run; run hopgauge fit plot-1 vault');
  });

  it('stands in --show-commands, and sends nothing', async () => {
    const asked: FitWanted[] = [];
    const fake = fakeRun({ files, nodes, io: { fit: passing(9000, asked, night) } });
    expect(await run(['audit', '--show-commands'], fake.io)).toBe(0);
    expect(asked).toEqual([]);
    expect(fake.stdout()).toContain(
      'after the reading, since the intent asks for it (fit: nightly), one sender at a time:',
    );
    expect(fake.stdout()).toContain(
      'plotting: up to 12 echo requests in each direction between plot-1 and vault',
    );
    expect(fake.stdout().trimEnd()).toMatch(/nothing was sent$/);
  });

  it('is not run by collectors, and --show-commands says what to do instead', async () => {
    const store = 'postgres://auditor@db.office.example/hopgauge';
    const argv = ['audit', '--show-commands', '--collect', '--store', store];
    const fake = fakeRun({ files, nodes });
    expect(await run(argv, fake.io)).toBe(0);
    expect(fake.stdout()).not.toContain('echo requests');
    expect(fake.stdout()).toContain(
      `path plotting: 'fit: nightly' is not run with --collect, since collectors only read; run hopgauge fit --path plotting --store ${store} where both ends can be reached`,
    );
  });

  it('is kept in the history: a night without a fit takes the last one, as long as it counts', async () => {
    const store = join(ownFolder(), 'history.sqlite');
    const auditOn = async (day: number, fit: NonNullable<Io['fit']>) => {
      const now = () => new Date(Date.UTC(2026, 10, day, 2));
      const fake = fakeRun({ files, nodes, io: { now, fit } });
      const status = await run(['audit', '--changes', '--all', '--store', store], fake.io);
      return { status, words: fake.stdout().replace(/\s+/g, ' ') };
    };
    const none: NonNullable<Io['fit']> = async () => [];
    await auditOn(1, passing(9000, [], '2026-11-01T02:00:00.000Z'));
    await auditOn(2, passing(9000, [], '2026-11-02T02:00:00.000Z'));
    const soon = await auditOn(7, none);
    expect(soon.words).toContain('tried plot-1 to vault and back, 2026-11-02: 9000 bytes pass');
    expect(soon.words).not.toContain('the last one is of');
    const later = await auditOn(12, none);
    expect(later.words).toContain(
      'a fit is asked for every night, and the last one is of 2026-11-02',
    );
    const long = await auditOn(40, none);
    expect(long.words).not.toContain('tried plot-1 to vault');
    expect(long.words).toContain('never run; run hopgauge fit plot-1 vault');
    const now = () => new Date(Date.UTC(2026, 11, 11));
    const fake = fakeRun({ files, io: { now } });
    expect(await run(['history', 'plotting', '--store', store], fake.io)).toBe(0);
    expect(fake.stdout().replace(/\s+/g, ' ')).toContain(
      '2026-11-01 02:00 UTC plot-1 to vault: 9000 bytes pass; the same until 2026-11-02 02:00 UTC',
    );
  });
});
