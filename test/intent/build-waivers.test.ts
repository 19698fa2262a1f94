import { describe, expect, it } from 'vitest';
import { waiverRuleFaults } from '../../src/intent/build-waivers.ts';
import { faultLine } from '../../src/intent/fault.ts';
import { loadFrom } from './load.ts';

describe('waiverRuleFaults', () => {
  it('tells waivers of rules that no policy in force has, at the rule', async () => {
    const text = `intent: 1
nodes: { a: { at: x } }
waivers:
  - { on: a, rule: duplex-ful, until: 2027-01-01, because: known }
  - { on: a, rule: duplex-full, until: 2027-01-01, because: known }
`;
    const loaded = await loadFrom({ 'site.yaml': text });
    const waivers = loaded.ok ? loaded.value.waivers : [];
    expect(waiverRuleFaults(waivers, ['speed-declared', 'duplex-full']).map(faultLine)).toEqual([
      "site.yaml:4:20: no rule in force has this name; 'duplex-ful'; write 'duplex-full'",
    ]);
  });
});
