import { describe, expect, it } from 'vitest';
import { dictionary } from '../../src/facts/dictionary.ts';
import { factTopics } from '../../src/facts/fact-topics.ts';
import { readTopics } from '../../src/facts/read-topics.ts';
import { topicsOf } from '../../src/judge/topics-of.ts';
import { loadShipped } from './shipped.ts';

describe('topicsOf', () => {
  it('asks for nothing more for the policies that are in force by default', async () => {
    const few = await loadShipped('essential', 'jumbo');
    expect(few).toHaveLength(2);
    expect([...topicsOf(few)]).toEqual([]);
  });

  it('asks for what the rules on signals rest on', async () => {
    const topics = topicsOf(await loadShipped('signal'));
    expect([...topics].sort()).toEqual(['media', 'optics', 'remote-errors']);
  });

  it('asks for the media that the rules on cabling rest on', async () => {
    const topics = topicsOf(await loadShipped('cabling'));
    expect(topics.has('media')).toBe(true);
    expect(topics.has('optics')).toBe(false);
  });

  it('asks for nothing where there are no rules', () => {
    expect(topicsOf([]).size).toBe(0);
  });
});

describe('factTopics', () => {
  it.each([
    ['port', 'mtuBytes', []],
    ['port', 'found', []],
    ['port', 'vlanId', []],
    ['port', 'membersDownPorts', []],
    ['port', 'duplex', []],
    ['link', 'lag', []],
    ['link', 'speedsEqual', []],
    ['segment', 'vlan', []],
    ['path', 'carriesDeclaredMtu', []],
    ['port', 'neighbour', ['neighbours', 'forwarding']],
    ['port', 'neighbourDeclared', ['neighbours', 'forwarding']],
    ['port', 'foundOn', ['neighbours', 'forwarding']],
    ['port', 'macsBehind', ['neighbours', 'forwarding']],
    ['port', 'untaggedVlan', ['vlans']],
    ['port', 'taggedVlans', ['vlans']],
    ['port', 'vlansAsDeclared', ['vlans']],
    ['port', 'spanningTree', ['spanning-tree']],
    ['port', 'spanningTreeForwards', ['spanning-tree']],
    ['port', 'lacpPartnerSystem', ['aggregation']],
    ['port', 'memberDistributes', ['aggregation']],
    ['link', 'memberPartnersEqual', ['aggregation']],
    ['path', 'inUse', ['spanning-tree', 'aggregation', 'forwarding']],
    ['port', 'partnerModes', ['media']],
    ['link', 'limitKind', ['media']],
    ['port', 'rxPowerDbm', ['optics']],
    ['port', 'rxPowerVerdict', ['media', 'optics']],
    ['port', 'errorVerdict', ['media', 'remote-errors']],
    ['port', 'rxJabbers', ['remote-errors']],
  ] as const)('%s.%s', (kind, fact, topics) => {
    expect([...factTopics(kind, fact)]).toEqual(topics);
  });

  it('has facts of the dictionary for every topic but those of derived facts', () => {
    const facts = Object.keys(dictionary.port);
    const found = new Set(facts.flatMap((fact) => [...factTopics('port', fact)]));
    const heard = ['neighbours', 'forwarding'];
    const needed = readTopics.filter((topic) => !heard.includes(topic));
    expect(needed.filter((topic) => !found.has(topic))).toEqual([]);
  });
});
