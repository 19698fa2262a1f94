import { describe, expect, it } from 'vitest';
import { allFaults } from './all-faults.ts';
import { hiddenFaults } from './hidden-faults.ts';
import { tryFault } from './try-fault.ts';

/** Sites with two ports at fault: each is a cause of its own. */
const twoCauses: ReadonlySet<string> = new Set(['mtu-handed-out-to-some-systems']);

describe('every fault that facts can show', () => {
  it.each(allFaults.map((fault) => [fault.key, fault] as const))('%s', async (key, fault) => {
    const outcome = await tryFault(fault);
    expect(outcome.falseAlarms).toEqual([]);
    const { detected, located, explained = true } = outcome;
    const wrong = detected && located && explained ? [] : outcome.seen;
    expect(wrong).toEqual([]);
    // Silent rows have nothing to locate, and notices are no cause to wake anybody for.
    expect(outcome.causes.length).toBeLessThanOrEqual(twoCauses.has(key) ? 2 : 1);
  });

  it('has a key of its own, as have those that stay hidden', () => {
    const keys = [...allFaults, ...hiddenFaults].map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
  });

  it('differs from its healthy twin, unless it only looks like a fault', () => {
    const same = allFaults.filter(
      ({ sick, healthy, finds }) =>
        finds.length > 0 && JSON.stringify(sick) === JSON.stringify(healthy),
    );
    expect(same.map(({ key }) => key)).toEqual([]);
  });
});
