import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { startClock } from '../../../src/collect/ssh/run-clock.ts';
import { defaultReadLimits } from '../../../src/collect/types.ts';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
});
afterEach(() => {
  vi.useRealTimers();
});

const limits = { ...defaultReadLimits, connectMs: 1_000, wholeMs: 5_000 };
const start = (outer = new AbortController().signal) => startClock(limits, outer);

describe('startClock', () => {
  it('ends a connection that is late', () => {
    const clock = start();
    vi.advanceTimersByTime(999);
    expect(clock.signal.aborted).toBe(false);
    vi.advanceTimersByTime(1);
    expect([clock.signal.aborted, clock.overrun()]).toEqual([true, 'connect']);
  });

  it('ends the whole run once connected', () => {
    const clock = start();
    clock.connected();
    vi.advanceTimersByTime(4_999);
    expect(clock.signal.aborted).toBe(false);
    vi.advanceTimersByTime(1);
    expect(clock.overrun()).toBe('whole');
  });

  it('does not count the time of a person', async () => {
    const clock = start();
    vi.advanceTimersByTime(600);
    let answer = () => {};
    const typed = new Promise<string>((resolve) => {
      answer = () => resolve('typed');
    });
    const held = clock.hold(typed);
    vi.advanceTimersByTime(60_000);
    answer();
    expect(await held).toBe('typed');
    vi.advanceTimersByTime(399);
    expect(clock.signal.aborted).toBe(false);
    vi.advanceTimersByTime(1);
    expect(clock.overrun()).toBe('connect');
  });

  it('does not start a limit again that was over', async () => {
    const clock = start();
    clock.connected();
    await clock.hold(Promise.resolve());
    vi.advanceTimersByTime(4_999);
    expect(clock.signal.aborted).toBe(false);
    clock.stop();
    vi.advanceTimersByTime(60_000);
    expect(clock.overrun()).toBeUndefined();
    expect(vi.getTimerCount()).toBe(0);
  });

  it.each(['before', 'after'])('stops when stopped from outside, %s its start', (when) => {
    const outer = new AbortController();
    if (when === 'before') outer.abort();
    const clock = start(outer.signal);
    outer.abort();
    expect([clock.signal.aborted, clock.overrun()]).toEqual([true, 'stopped']);
  });
});
