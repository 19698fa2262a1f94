import { setTimeout as wait } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { withinTime } from '../../src/collect/within-time.ts';

setFlagsFromString('--expose-gc');
const collectGarbage = runInNewContext('gc') as () => void;

describe('a wait with a limit', () => {
  it('ends by itself though nobody holds its signal', async () => {
    let ended = 0;
    const begin = () => {
      const { signal } = withinTime(60, new AbortController().signal);
      signal.addEventListener('abort', () => {
        ended += 1;
      });
    };
    for (let each = 0; each < 50; each += 1) begin();
    collectGarbage();
    await wait(10);
    collectGarbage();
    await wait(200);
    expect(ended).toBe(50);
  });

  it('ends with the run, also one that has ended before', () => {
    const run = new AbortController();
    const { signal, clear } = withinTime(60_000, run.signal);
    expect(signal.aborted).toBe(false);
    run.abort();
    expect(signal.aborted).toBe(true);
    clear();
    const late = withinTime(60_000, run.signal);
    expect(late.signal.aborted).toBe(true);
    late.clear();
  });

  it('does not end once it is cleared', async () => {
    const run = new AbortController();
    const { signal, clear } = withinTime(20, run.signal);
    clear();
    run.abort();
    await wait(60);
    expect(signal.aborted).toBe(false);
  });
});
