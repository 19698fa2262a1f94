import { describe, expect, it } from 'vitest';
import { auditPatience, collectorPatience, patienceOf } from '../../src/cli/server-patience.ts';
import { openServer } from '../../src/history/open-server.ts';
import { serverPlace } from '../../src/history/server-place.ts';
import { freePort } from '../tools/loopback-port.ts';
import { fakeRun } from './fake-io.ts';

const never = new AbortController().signal;

describe('a server that is away', () => {
  it('is waited for as long as the bounds say, and told once', async () => {
    const fake = fakeRun();
    const patience = patienceOf({ forMs: 0, stop: never, words: 'waiting' }, fake.io);
    expect(await patience('no server there')).toBe(false);
    expect(await patience('no server there')).toBe(false);
    expect(fake.stderr()).toBe('no server there; waiting\n');
  });

  it('is tried again by an audit and a collector', async () => {
    const fake = fakeRun();
    expect(await auditPatience(fake.io, never)('away')).toBe(true);
    expect(await collectorPatience(fake.io)('away')).toBe(true);
    expect(fake.stderr()).toBe('away; waiting for it, 30s at most\naway; waiting for it\n');
  });

  it('is not tried after the time for the reading is over', async () => {
    expect(await auditPatience(fakeRun().io, AbortSignal.abort())('away')).toBe(false);
  });

  it('holds nobody who interrupts', async () => {
    const { io } = fakeRun({ io: { signal: AbortSignal.timeout(20) } });
    await expect(auditPatience(io, io.signal)('away')).rejects.toMatchObject({ status: 130 });
  });

  it('is asked for again where nobody listens, with what was seen', async () => {
    const place = serverPlace(`postgres://auditor@127.0.0.1:${await freePort()}/x`, {}, 'nobody');
    const seen: string[] = [];
    const opened = openServer(
      place,
      async () => 'reeds',
      async (words) => seen.push(words) < 3,
    );
    await expect(opened).rejects.toThrow('no server answers there');
    expect(seen).toEqual(Array(3).fill(expect.stringContaining('(ECONNREFUSED)')));
  });
});
