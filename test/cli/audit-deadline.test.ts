import { describe, expect, it } from 'vitest';
import type { Io } from '../../src/cli/io.ts';
import { run } from '../../src/cli/run.ts';
import type { ReadOutcome } from '../../src/collect/types.ts';
import { fakeRun, host, office } from './fake-io.ts';

const healthy = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };

/** Time that passes only when it is told to; `wanted` has what was asked of it. */
function handClock() {
  const wanted: number[] = [];
  const ends = new Map<number, () => void>();
  const sleep: NonNullable<Io['sleep']> = (ms, signal) =>
    new Promise((resolve, reject) => {
      wanted.push(ms);
      ends.set(ms, resolve);
      const onAbort = () => reject(new Error('ended'));
      if (signal.aborted) onAbort();
      signal.addEventListener('abort', onAbort, { once: true });
    });
  return { wanted, sleep, pass: (ms: number) => ends.get(ms)?.() };
}

const hangs = new Promise<ReadOutcome>(() => {});

describe('audit --deadline', () => {
  it('judges and reports what was read by then, though a reader never ends', async () => {
    const clock = handClock();
    const read: NonNullable<Io['read']> = async (node) => {
      if (node.name !== 'vault') return { ok: true, reading: host('en7', 9000) };
      // Four fifths of it are for reading; the rest is kept to judge and to tell.
      clock.pass(8000);
      return hangs;
    };
    const fake = fakeRun({ files: office, io: { sleep: clock.sleep, read } });
    expect(await run(['audit', '--deadline', '10s', '--verbose'], fake.io)).toBe(2);
    expect(clock.wanted).toEqual([8000, 10_000]);
    expect(fake.stdout()).toContain('1 of 2 nodes read');
    expect(fake.stdout().replaceAll(/\s+/g, ' ')).toContain(
      'time over: not read by the deadline of 10s',
    );
    expect(fake.stderr()).toBe('');
  });

  it('keeps a minute at most to judge and to tell', async () => {
    const clock = handClock();
    const fake = fakeRun({ files: office, nodes: healthy, io: { sleep: clock.sleep } });
    expect(await run(['audit', '--deadline', '30m'], fake.io)).toBe(0);
    expect(clock.wanted).toEqual([29 * 60_000, 30 * 60_000]);
    expect(fake.stdout()).toContain('2 nodes read');
  });

  it('asks nobody any more once it is over', async () => {
    const io = { sleep: async () => {} };
    const fake = fakeRun({ files: office, nodes: healthy, io });
    expect(await run(['audit', '--deadline', '10s'], fake.io)).toBe(2);
    expect(fake.stdout()).toContain('0 of 2 nodes read');
    expect(fake.asked).toEqual([]);
  });

  it('130 where the operator interrupts, deadline or not', async () => {
    const stop = new AbortController();
    const clock = handClock();
    const read: NonNullable<Io['read']> = () => {
      stop.abort();
      return hangs;
    };
    const io = { sleep: clock.sleep, read, signal: stop.signal };
    const fake = fakeRun({ files: office, io });
    expect(await run(['audit', '--deadline', '10s'], fake.io)).toBe(130);
    expect([fake.stdout(), fake.stderr()]).toEqual([
      '',
      'interrupted; nothing was judged or written\n',
    ]);
  });
});

describe('audit --spread', () => {
  const waits = [
    [0, 0],
    [0.5, 300_000],
    [0.999_999_9, 599_999],
  ] as const;
  for (const [random, ms] of waits) {
    it(`waits ${ms} ms of 10 minutes, then reads`, async () => {
      const slept: number[] = [];
      const sleep = async (wanted: number) => {
        slept.push(wanted);
      };
      const io = { sleep, random: () => random };
      const fake = fakeRun({ files: office, nodes: healthy, io });
      expect(await run(['audit', '--spread', '10m'], fake.io)).toBe(0);
      expect(slept).toEqual([ms]);
      expect(fake.asked).toHaveLength(2);
    });
  }

  it('130 where it is interrupted, before anything is read', async () => {
    const stop = new AbortController();
    const clock = handClock();
    const sleep: NonNullable<Io['sleep']> = (ms, signal) => {
      const slept = clock.sleep(ms, signal);
      stop.abort();
      return slept;
    };
    const io = { sleep, random: () => 0.5, signal: stop.signal };
    const fake = fakeRun({ files: office, nodes: healthy, io });
    expect(await run(['audit', '--spread', '10m'], fake.io)).toBe(130);
    expect(fake.asked).toEqual([]);
  });

  it('is part of the deadline', async () => {
    const clock = handClock();
    const sleep: NonNullable<Io['sleep']> = (ms, signal) => {
      const slept = clock.sleep(ms, signal);
      if (ms === 300_000) clock.pass(300_000);
      return slept;
    };
    const io = { sleep, random: () => 0.5 };
    const fake = fakeRun({ files: office, nodes: healthy, io });
    expect(await run(['audit', '--spread', '10m', '--deadline', '30m'], fake.io)).toBe(0);
    expect(clock.wanted).toEqual([29 * 60_000, 30 * 60_000, 300_000]);
  });
});

describe('64 for a time that makes no sense', () => {
  const rows = [
    [['--deadline', '30'], "--deadline: '30' is no age; write 90s, 30m, 26h or 14d"],
    [['--deadline', '2d'], '--deadline: a day is the most; write 30m, say'],
    [['--spread', '25h'], '--spread: a day is the most; write 10m, say'],
    [
      ['--deadline', '10m', '--spread', '10m'],
      '--spread is part of the time that --deadline gives; make it the shorter one',
    ],
    [
      ['--deadline', '10m', '--survey', 'x.json'],
      '--deadline and --spread are of a reading, and --survey reads nothing; leave them out',
    ],
  ] as const;
  for (const [argv, said] of rows) {
    it(argv.join(' '), async () => {
      const fake = fakeRun({ files: office, nodes: healthy });
      expect(await run(['audit', ...argv], fake.io)).toBe(64);
      expect([fake.stderr(), fake.asked]).toEqual([`${said}\n`, []]);
    });
  }
});
