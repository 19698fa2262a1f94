import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { gapOf } from '../../src/facts/subject.ts';
import type { LinkSketch } from './builders.ts';
import { subjectIn } from './builders.ts';
import { plottingSite } from './plotting-site.ts';

const days = (count: number) => count * 86_400;

/** The server's port with these facts, and the seconds that its node is up. */
function port(facts: PortReadFacts, uptimeSeconds?: number, link?: LinkSketch) {
  const up = uptimeSeconds === undefined ? {} : { uptimeSeconds };
  const site = plottingSite({
    ...(link === undefined ? {} : { link }),
    readings: { vault: { facts: up, ports: { eth4: facts } } },
  });
  return subjectIn(site, 'ports', 'vault:eth4');
}

describe('errors of a port against the limit of its PHY', () => {
  const carried = { rxFrames: 800_000_000, rxOctets: 1_200_000_000_000 } as const;
  const tenGig = { ...carried, phyText: '10GBASE-T' } as const;

  it.each([
    ['none in a terabyte', { ...tenGig, rxCrcErrors: 0 }, 'within'],
    ['thousands in a terabyte', { ...tenGig, rxCrcErrors: 4000 }, 'worse-than-limit'],
    [
      'alignment errors too',
      { ...tenGig, rxCrcErrors: 0, rxAlignmentErrors: 4000 },
      'worse-than-limit',
    ],
    [
      'two in a megabyte',
      { phyText: '10GBASE-T', rxFrames: 700, rxOctets: 1_000_000, rxCrcErrors: 2 },
      'cannot-tell-yet',
    ],
    [
      'a PHY without a limit here',
      { ...carried, phyText: '100BASE-TX', rxCrcErrors: 4000 },
      undefined,
    ],
    ['no count of errors', tenGig, undefined],
    ['a virtual port', { ...tenGig, kind: 'virtual', rxCrcErrors: 4000 }, undefined],
  ] as const)('%s', (_name, facts, verdict) => {
    const subject = port(facts);
    expect(subject.facts['errorVerdict']).toBe(verdict);
    expect(gapOf(subject, 'errorVerdict')).toBeUndefined();
  });

  it('gives the ratio and the limit', () => {
    const { facts } = port({ phyText: '1000BASE-T', ...carried, rxCrcErrors: 96 });
    // IEEE 802.3 clause 40.6.1.3.1, from memory: 1e-10; 96 errors in 9.6e12 bits.
    expect(facts).toMatchObject({ errorLimitRatio: 1e-10, errorRatio: 1e-11 });
  });

  it('doubts counters that contradict each other', () => {
    const subject = port({ phyText: '10GBASE-T', rxFrames: 1000, rxOctets: 9, rxCrcErrors: 9 });
    expect(gapOf(subject, 'errorVerdict')).toMatchObject({ reason: 'doubtful' });
  });
});

describe('light that a port receives', () => {
  const optic = { phyText: '10GBASE-SR', rxPowerLowDbm: -9.9, rxPowerHighDbm: -1 } as const;

  it.each([
    ['enough', { ...optic, rxPowerDbm: -5 }, 'ok', 4],
    ['too little', { ...optic, rxPowerDbm: -13.1 }, 'low', -3.2],
    ['too much', { ...optic, rxPowerDbm: 0.5 }, 'high', -1.5],
    ['none', { ...optic, rxPowerDbm: -40 }, 'no-light', undefined],
    ['a port of copper', { ...optic, phyText: '10GBASE-T', rxPowerDbm: -40 }, undefined, undefined],
    ['no limit to compare with', { phyText: '25GBASE-SR', rxPowerDbm: -5 }, undefined, undefined],
  ] as const)('%s', (_name, read, verdict, marginDb) => {
    const { facts } = port(read);
    expect([facts['rxPowerVerdict'], facts['rxPowerMarginDb']]).toEqual([verdict, marginDb]);
  });
});

describe('changes of link in a day', () => {
  it.each([
    ['by changes', { carrierChanges: 90 }, days(10), 9],
    ['by losses, two changes each', { linkDownEvents: 5 }, days(4), 2.5],
    ['up for less than a day', { carrierChanges: 90 }, days(1) - 1, undefined],
    ['uptime not read', { carrierChanges: 90 }, undefined, undefined],
    ['not counted', {}, days(10), undefined],
  ] as const)('%s', (_name, read, uptime, perDay) => {
    expect(port(read, uptime).facts['linkChangesPerDay']).toBe(perDay);
  });
});

describe('half duplex that a port took alone', () => {
  const half = { speedMbps: 100, duplex: 'half', autoNegotiation: true } as const;

  it.each([
    ['full duplex', { speedMbps: 100 }, false],
    ['a partner that does not negotiate', { ...half, partnerAutoNegotiation: false }, true],
    ['agreed', { ...half, partnerAutoNegotiation: true }, false],
    ['late collisions', { ...half, lateCollisions: 7 }, true],
    ['nothing that tells more', half, undefined],
    ['no link', { ...half, partnerAutoNegotiation: false, operUp: false }, undefined],
  ] as const)('%s', (_name, read, suspect) => {
    expect(port(read).facts['halfDuplexSuspect']).toBe(suspect);
  });
});

describe('the bus of a port', () => {
  it.each([
    ['four lanes of generation 3', { busText: 'PCIe 8.0 GT/s x4' }, true],
    ['one lane of it', { busText: 'PCIe 8.0 GT/s x1' }, false],
    ['USB at 5 Gb/s', { busText: 'USB 5000 Mb/s' }, false],
    ['Thunderbolt 3', { busText: 'Thunderbolt 40 Gb/s' }, true],
    ['an unknown bus that carries too little', { busText: 'odd', busMbps: 4000 }, false],
    ['an unknown bus that may carry enough', { busText: 'odd', busMbps: 10_500 }, undefined],
    ['not told', {}, undefined],
  ] as const)('%s', (_name, read, feeds) => {
    const subject = port(read);
    expect(subject.facts['busFeedsPort']).toBe(feeds);
    expect(gapOf(subject, 'busFeedsPort')).toBeUndefined();
  });

  it('is in doubt where it has hardly enough', () => {
    const subject = port({ busText: 'PCIe 8.0 GT/s x4' }, undefined, { speedMbps: 25_000 });
    expect(gapOf(subject, 'busFeedsPort')).toMatchObject({
      reason: 'doubtful',
      cause: 'bus of vault:eth4',
    });
  });

  it('is held to what the port can where nothing is declared', () => {
    const read = { busText: 'PCIe 8.0 GT/s x4', supportedModes: ['40000baseCR4/Full'] };
    expect(port(read, undefined, {}).facts['busFeedsPort']).toBe(false);
  });
});

describe('why a port runs at its speed', () => {
  const all = ['1000baseT/Full', '10000baseT/Full'];
  const lists = { supportedModes: all, advertisedModes: all, partnerModes: all };
  const g1 = { speedMbps: 1000 } as const;
  const offersG1 = { ...lists, advertisedModes: ['1000baseT/Full'] };

  it.each([
    ['as-negotiated', lists],
    ['downshift', { ...g1, ...lists }],
    ['limited-here', { ...g1, ...offersG1 }],
    ['limited-by-partner', { ...g1, ...lists, partnerModes: ['1000baseT/Full'] }],
    ['limited-by-both', { ...g1, ...offersG1, partnerModes: ['1000baseT/Full'] }],
    ['fixed', { ...g1, ...lists, autoNegotiation: false }],
    ['no-partner-list', { advertisedModes: all }],
    ['no-local-list', { partnerModes: all }],
  ] as const)('%s', (word, read) => {
    expect(port(read).facts['speedCause']).toBe(word);
  });

  it('is not asked of a port without link', () => {
    expect(port({ ...lists, operUp: false }).facts['speedCause']).toBeUndefined();
  });

  it('stands beside the highest of each list', () => {
    expect(port({ ...g1, ...offersG1 }).facts).toMatchObject({
      capableMbps: 10_000,
      advertisedMbps: 1000,
      partnerMbps: 10_000,
    });
  });

  it('reads the words of macOS too', () => {
    const read = {
      supportedModes: ['autoselect', '1000baseT <full-duplex>', '10Gbase-T <full-duplex>'],
    };
    expect(port(read).facts['capableMbps']).toBe(10_000);
  });
});
