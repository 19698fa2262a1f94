import { describe, expect, it } from 'vitest';
import { faultLine } from '../../src/intent/fault.ts';
import type { PolicyRef } from '../../src/intent/types.ts';
import { loadPolicies, policiesMax, type ReadPolicy } from '../../src/judge/load-policies.ts';
import { ruleLines } from './policy-samples.ts';

const files: Readonly<Record<string, string>> = {
  one: `policy: one\nabout: x\nrules:\n${ruleLines({ rule: 'a' })}`,
  two: `policy: two\nabout: x\nrules:\n${ruleLines({ rule: 'b' })}${ruleLines({ rule: 'a' })}`,
  broken: `policy: broken\nabout: x\nrules:\n${ruleLines({ rule: 'c', holds: 'port.x' })}`,
};

const read: ReadPolicy = async ({ name }) => {
  const text = files[name];
  if (text !== undefined) return { ok: true, file: `${name}.yaml`, text };
  return { ok: false, what: 'there is no such file', remedy: 'correct the name' };
};

async function faultsOf(refs: readonly PolicyRef[]): Promise<readonly string[]> {
  const loaded = await loadPolicies(refs, read);
  return loaded.ok ? [] : loaded.faults.map(faultLine);
}

const place = { file: 'hopgauge.yaml', line: 9, column: 12 };

describe('loadPolicies', () => {
  it('keeps the order given and counts a policy once', async () => {
    const loaded = await loadPolicies([{ name: 'one' }, { name: 'one', place }], read);
    expect(loaded.ok && loaded.value.map(({ policy }) => policy)).toEqual(['one']);
  });

  it('tells where the intent names a policy that is not there', async () => {
    expect(await faultsOf([{ name: 'one' }, { name: 'oen', place }])).toEqual([
      "hopgauge.yaml:9:12: policy 'oen': there is no such file; correct the name",
    ]);
  });

  it('refuses one rule name in two policies', async () => {
    expect(await faultsOf([{ name: 'one' }, { name: 'two' }])).toEqual([
      "two.yaml:10:11: the rule 'a' is there twice; first at one.yaml:4:11; rename or remove one",
    ]);
  });

  it('tells the faults of all files at once', async () => {
    expect(await faultsOf([{ name: 'broken' }, { name: 'none', place }])).toHaveLength(2);
  });

  it('refuses more policies than the limit', async () => {
    const refs = Array.from({ length: policiesMax + 1 }, (_, i) => ({ name: `p${i}`, place }));
    expect(await faultsOf(refs)).toEqual([
      "hopgauge.yaml:9:12: policy 'p64': more than 64 policies; join some of them",
    ]);
  });
});
