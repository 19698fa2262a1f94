import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { planned, twoSwitches } from './two-switches.ts';

function planOf(asked: string, eth4: PortReadFacts = {}) {
  const { intent, survey } = twoSwitches({ hosts: 9000, switches: 9216, declared: 9000, eth4 });
  const { steps, impossible } = planned(`ports: { ${asked} }`, intent, survey);
  return { steps: steps.length, told: impossible.map(({ on, what }) => `${on} ${what}`) };
}

const full = ['100baseT/Full', '1000baseT/Full', '10000baseT/Full'];
const old = ['10baseT/Half', '100baseT/Half', '100baseT/Full'];
const ten = { speedMbps: 10_000, duplex: 'full' };

describe('a duplex that a port cannot run in', () => {
  it.each([
    [
      'half at a speed that it has in full alone',
      '{ speed: 100M, duplex: half }',
      { supportedModes: full },
      'cannot run in half duplex at 100 Mb/s: it can do that speed in full duplex only',
    ],
    [
      'half of a port that has full alone at every speed',
      '{ duplex: half }',
      { ...ten, autoNegotiation: true, supportedModes: full },
      'cannot run in half duplex: it can do full duplex only, at every speed',
    ],
    // IEEE 802.3, clauses 44 (10 Gb/s) and 125 (2.5 and 5 Gb/s): full duplex only.
    [
      'half at 10 Gb/s, whatever is listed',
      '{ duplex: half }',
      { ...ten, autoNegotiation: false },
      'cannot run in half duplex at 10000 Mb/s: there is none above 1000 Mb/s (IEEE 802.3, clauses 44 and 125)',
    ],
    [
      'half at 2.5 Gb/s',
      '{ speed: 2500M, duplex: half }',
      {},
      'cannot run in half duplex at 2500 Mb/s: there is none above 1000 Mb/s (IEEE 802.3, clauses 44 and 125)',
    ],
    [
      'full at a speed that it has in half alone',
      '{ speed: 10M, duplex: full, negotiate: false }',
      { supportedModes: old },
      'cannot run in full duplex at 10 Mb/s: it can do that speed in half duplex only',
    ],
  ])('is impossible: %s', (_, asked, eth4, what) => {
    expect(planOf(`"vault:eth4": ${asked}`, eth4)).toEqual({
      steps: 0,
      told: [`vault:eth4 ${what}`],
    });
  });

  // Half duplex at 1 Gb/s is defined (IEEE 802.3, clause 41).
  it.each([
    ['half that it lists', '{ speed: 100M, duplex: half }', { supportedModes: old }],
    ['half at 1 Gb/s where nothing was read of it', '{ speed: 1G, duplex: half }', {}],
    [
      'half of a port that may negotiate a lower speed',
      '{ duplex: half }',
      { ...ten, autoNegotiation: true, supportedModes: [...old, '10000baseT/Full'] },
    ],
  ])('is a step: %s', (_, asked, eth4) => {
    expect(planOf(`"vault:eth4": ${asked}`, eth4)).toEqual({ steps: 1, told: [] });
  });
});

// An aggregate, a VLAN and a bridge run over other ports (IEEE 802.1AX 6.1 and 802.1Q; common
// practice): speed is set on those.
describe('a port that has no line of its own', () => {
  it.each([
    ['vault:bond0', '{ speed: 1G }', 'an aggregate'],
    ['store:eno1.20', '{ speed: 1G }', 'a VLAN interface'],
    ['store:br20', '{ negotiate: false }', 'a bridge'],
  ])('%s is refused', (port, asked, kind) => {
    expect(planOf(`"${port}": ${asked}`)).toEqual({
      steps: 0,
      told: [`${port} has no speed, duplex or negotiation of its own to set: it is ${kind}`],
    });
  });

  it('has the ports named that are to be set instead', () => {
    const { intent, survey } = twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 });
    const text = 'ports: { "vault:bond0": { speed: 1G } }';
    expect(planned(text, intent, survey).impossible[0]?.remedy).toBe(
      'set vault:eth4, vault:eth5 instead',
    );
  });
});
