import { describe, expect, it } from 'vitest';
import type { OneWay } from '../../src/cli/fit-ends.ts';
import { type Trial, tryAll } from '../../src/cli/fit-trials.ts';
import type { RunScript } from '../../src/collect/types.ts';

const silent: RunScript = async () => ({
  ok: false,
  trouble: { kind: 'no-answer', seen: 'no answer', remedy: 'look whether it has power' },
});

/** Pairs of ends of which `run` is asked in this order: there, back, and on to the next. */
function trialsOf(names: readonly string[], run: RunScript): readonly Trial[] {
  return names.map((to) => {
    const there: OneWay = { from: 'plot-1', to, run, toAddress: '198.18.20.2' };
    const back: OneWay = { from: to, to: 'plot-1', run, toAddress: '198.18.20.1' };
    return { pair: { from: 'plot-1', to }, ways: [there, back] };
  });
}

async function triedBefore(asksBefore: number) {
  const interrupt = new AbortController();
  let asked = 0;
  const run: RunScript = async (...parts) => {
    asked += 1;
    if (asked > asksBefore) interrupt.abort();
    return silent(...parts);
  };
  const io = { now: () => new Date('2026-11-25T02:00:00Z'), signal: interrupt.signal };
  const trials = trialsOf(['vault', 'store', 'attic'], run);
  const pairs = await tryAll(trials, { options: { size: [] }, site: undefined, io });
  return { asked, tried: pairs.map(({ to }) => to) };
}

describe('pairs of ends that are tried one after the other', () => {
  it.each([
    ['in the first', 0, []],
    ['on the way back of the first', 1, []],
    ['in the second', 2, ['vault']],
    ['in the last', 5, ['vault', 'store']],
    ['after all', 6, ['vault', 'store', 'attic']],
  ] as const)('are those before an interrupt %s', async (_, asks, tried) => {
    const told = await triedBefore(asks);
    expect(told.tried).toEqual(tried);
    expect(told.asked).toBe(Math.min(asks + 1, 6));
  });
});
