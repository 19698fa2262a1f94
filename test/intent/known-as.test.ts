import { describe, expect, it } from 'vitest';
import { planSurvey } from '../../src/collect/plan.ts';
import { knownAs } from '../../src/intent/known-as.ts';
import { loadFrom } from './load.ts';

const shared = 'access: { hosts: { ssh: { user: auditor, hostKeys: by-site } } }\n';
const siteOf = (name: string) => `intent: 1
site: ${name}
include: [shared.yaml]
nodes:
  vault: { at: 192.0.2.7, access: [hosts], reach: yard }
  gate: { at: 192.0.2.1 }
`;

async function planned(name: string) {
  const loaded = await loadFrom({ 'site.yaml': siteOf(name), 'shared.yaml': shared });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
  return planSurvey(loaded.value).nodes;
}

describe('host keys by site', () => {
  it('have a name for each node of each site, and leave other accesses as they are', async () => {
    const [gate, vault] = await planned('the depot');
    expect(vault?.access).toEqual([
      {
        via: 'ssh',
        name: 'hosts',
        user: 'auditor',
        hostKeys: 'by-site',
        knownAs: knownAs('the depot', 'vault'),
      },
    ]);
    expect(vault?.reach).toBe('yard');
    expect(gate?.access).toEqual([{ via: 'ssh', name: 'ssh' }]);
    const [, elsewhere] = await planned('the pier');
    expect(elsewhere?.access).not.toEqual(vault?.access);
  });

  it.each([
    ['the depot', 'vault', /^vault\.the-depot\.[0-9a-f]{8}$/],
    ['ÄÖ', '*,?', /^x\.x\.[0-9a-f]{8}$/],
    ['x'.repeat(90), 'Y'.repeat(90), /^y{60}\.x{60}\.[0-9a-f]{8}$/],
  ])('of %s, %s are names that known_hosts takes', (site, node, form) => {
    expect(knownAs(site, node)).toMatch(form);
  });

  it('differ where only the spelling looks alike', () => {
    expect(knownAs('the depot', 'vault')).not.toBe(knownAs('the-depot', 'vault'));
    expect(knownAs('a', 'b c')).not.toBe(knownAs('a b', 'c'));
  });
});
