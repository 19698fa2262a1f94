import { describe, expect, it } from 'vitest';
import { stateAfter } from '../../src/change/foretell.ts';
import { type LineSetting, settleLink } from '../../src/change/settle-link.ts';
import { planned, twoSwitches } from './two-switches.ts';

const speedsMbps = [10, 100, 1000, 10_000];
const auto = (onlyMbps?: number, onlyDuplex?: 'full' | 'half'): LineSetting => ({
  ...{ negotiates: true, speedsMbps },
  ...(onlyMbps === undefined ? {} : { onlyMbps }),
  ...(onlyDuplex === undefined ? {} : { onlyDuplex }),
});
const fixed = (onlyMbps: number, onlyDuplex: 'full' | 'half' = 'full'): LineSetting => ({
  ...{ negotiates: false, onlyMbps, onlyDuplex, speedsMbps },
});

function words([a, b]: ReturnType<typeof settleLink>): string[] {
  return [a, b].map((end) =>
    'gap' in end
      ? end.down
        ? 'down'
        : `? ${end.gap.words}`
      : `${end.facts.speedMbps} ${end.facts.duplex ?? '?'}`,
  );
}

describe('a link whose ends are set', () => {
  // IEEE 802.3, 28.2.3.1: parallel detection finds the speed and never the duplex, which is then half.
  it.each([
    ['100 forced against negotiation', fixed(100), auto(), ['100 full', '100 half']],
    ['10 forced against negotiation', auto(), fixed(10), ['10 half', '10 full']],
  ])('%s falls to half duplex at the end that negotiates', (_, a, b, expected) => {
    expect(words(settleLink(a, b))).toEqual(expected);
  });

  // IEEE 802.3, 40.5.1: 1000BASE-T does not come up without negotiation.
  it('above 100 Mb/s is not known to come up with negotiation at one end alone', () => {
    expect(words(settleLink(fixed(1000), auto()))).toEqual(
      Array(2).fill('? negotiation is on at one end alone: whether the link comes up is not known'),
    );
  });

  // IEEE 802.3, 28D and 40.5.1: master and slave of 1000BASE-T and faster copper are negotiated. Over
  // fibre and direct attach of 10 Gb/s nothing is (common practice).
  it.each([
    [1000, 'twisted-pair', '1000BASE-T and faster copper needs negotiation'],
    [10_000, 'twisted-pair', '1000BASE-T and faster copper needs negotiation'],
    [10_000, undefined, 'it may be twisted pair'],
    [10_000, 'other', undefined],
    [100, 'twisted-pair', undefined],
  ] as const)('at %i Mb/s over %s, both ends forced', (mbps, medium, expected) => {
    const end = { ...fixed(mbps), ...(medium === undefined ? {} : { medium }) };
    const [first] = words(settleLink(end, fixed(mbps)));
    if (expected === undefined) expect(first).toBe(`${mbps} full`);
    else expect(first).toContain(`? ${expected}`);
  });

  // IEEE 802.3, 28.2.3.1: parallel detection comes to half duplex, which this end does not offer.
  it('is not known where the end that negotiates has no half duplex', () => {
    const auto100 = { ...auto(), oneDuplexAt: new Map([[100, 'full'] as const]) };
    for (const word of words(settleLink(auto100, fixed(100))))
      expect(word).toContain('? negotiation is on at one end alone, which then takes half duplex');
  });

  // IEEE 802.3, 28.2.3.3 (Priority Resolution): of what both offer.
  it.each([
    ['one end that offers 1 Gb/s alone', auto(1000), auto(), ['1000 full', '1000 full']],
    ['both ends that do', auto(1000), auto(1000), ['1000 full', '1000 full']],
    ['half duplex at one end', auto(100, 'half'), auto(), ['100 half', '100 half']],
    ['two speeds', auto(1000), auto(100), ['down', 'down']],
    [
      'a speed that the other end does not offer',
      auto(1000),
      { negotiates: true, speedsMbps: [10, 100] },
      ['down', 'down'],
    ],
    [
      'a forced speed that the other end does not have',
      fixed(100),
      { negotiates: true, speedsMbps: [10] },
      ['down', 'down'],
    ],
    ['two forced speeds', fixed(1000), fixed(100), ['down', 'down']],
    ['a forced speed of 100 Mb/s', fixed(100), fixed(100), ['100 full', '100 full']],
    [
      'half duplex at one end and full at the other',
      auto(100, 'half'),
      auto(100, 'full'),
      ['down', 'down'],
    ],
    [
      'half duplex where the other end offers full alone',
      auto(100, 'half'),
      { ...auto(), oneDuplexAt: new Map([[100, 'full'] as const]) },
      ['down', 'down'],
    ],
    [
      'an end that offers half duplex alone',
      auto(10),
      { ...auto(), oneDuplexAt: new Map([[10, 'half'] as const]) },
      ['10 half', '10 half'],
    ],
    [
      'half duplex forced on an end that has full alone',
      { ...fixed(100, 'half'), oneDuplexAt: new Map([[100, 'full'] as const]) },
      fixed(100, 'half'),
      ['down', 'down'],
    ],
    // IEEE 802.3, clause 44: 10 Gb/s runs in full duplex only.
    ['half duplex forced at 10 Gb/s', fixed(10_000, 'half'), fixed(10_000), ['down', 'down']],
    ['forced duplexes that differ', fixed(100), fixed(100, 'half'), ['100 full', '100 half']],
  ])('%s', (_, a, b, expected) => {
    expect(words(settleLink(a, b))).toEqual(expected);
  });

  it.each([
    ['nothing is known of the far end', auto(1000), {}],
    ['both negotiate anew', auto(), auto()],
    ['one is forced to nobody knows what', { negotiates: false }, fixed(100)],
    ['an end has no list', auto(1000), { negotiates: true }],
    [
      'a list has no name for it',
      { ...auto(2500), speedsMbps: [2500] },
      { ...auto(), silentMbps: [2500] },
    ],
    ['two speeds, of ends of which one is not known to negotiate', auto(1000), { onlyMbps: 100 }],
  ])('is not known where %s', (_, a, b) => {
    expect(words(settleLink(a, b)).every((word) => word.startsWith('?'))).toBe(true);
  });
});

describe('a speed that a change sets', () => {
  const site = () => twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 });
  const negotiating = () => {
    const { intent, survey } = site();
    const nodes = survey.nodes.map((node) => ({
      ...node,
      ports: node.ports.map((port) => ({
        ...port,
        facts: { ...port.facts, autoNegotiation: true, ...all },
      })),
    }));
    return { intent, survey: { ...survey, nodes } };
  };
  const factsAfter = (text: string, { intent, survey }: ReturnType<typeof site>, done: number) => {
    const plan = planned(text, intent, survey);
    const after = stateAfter(plan, survey, plan.steps.slice(0, done)).survey;
    return (node: string, name: string) =>
      after.nodes.find((each) => each.node === node)?.ports.find((port) => port.name === name);
  };
  const all = {
    advertisedModes: ['1000baseT/Full', '10000baseT/Full'],
    supportedModes: ['1000baseT/Full', '10000baseT/Full'],
  };
  const link = 'links: { "plot-1:en7 - quay-sw:xg2": { speed: 1G } }';

  it('at one end moves the other one, which negotiates', () => {
    const port = factsAfter(link, negotiating(), 1);
    for (const [node, name] of [
      ['plot-1', 'en7'],
      ['quay-sw', 'xg2'],
    ] as const) {
      expect(port(node, name)?.facts).toMatchObject({ speedMbps: 1000, duplex: 'full' });
      expect(port(node, name)?.facts.advertisedModes).toBeUndefined();
      expect(port(node, name)?.gaps?.['advertisedModes']?.words).toBe(
        'known once the link is set anew',
      );
    }
  });

  const withModes = () => {
    const { intent, survey } = site();
    const nodes = survey.nodes.map((node) => ({
      ...node,
      ports: node.ports.map((port) => ({ ...port, facts: { ...port.facts, ...all } })),
    }));
    return { intent, survey: { ...survey, nodes } };
  };

  it('at ends of which nothing is known leaves it open whether there is a link', () => {
    const whole = factsAfter(link, site(), 2);
    expect(whole('quay-sw', 'xg2')?.facts.speedMbps).toBeUndefined();
    expect(whole('quay-sw', 'xg2')?.gaps?.['speedMbps']?.words).toBe(
      'whether both ends can do 1000 Mb/s was not read',
    );
  });

  it('of an end that may not negotiate is known once both are set', () => {
    const half = factsAfter(link, withModes(), 1);
    expect(half('quay-sw', 'xg2')?.facts.speedMbps).toBeUndefined();
    expect(half('quay-sw', 'xg2')?.gaps?.['speedMbps']?.words).toBe(
      'whether the other end negotiates is not known',
    );
    const whole = factsAfter(link, withModes(), 2);
    expect(whole('quay-sw', 'xg2')?.facts.speedMbps).toBe(1000);
    expect(whole('plot-1', 'en7')?.facts.speedMbps).toBe(1000);
  });

  it('that the far end is forced off takes the link down', () => {
    const { intent, survey } = negotiating();
    const nodes = survey.nodes.map((node) => ({
      ...node,
      ports: node.ports.map((port) => ({
        ...port,
        facts: { ...port.facts, autoNegotiation: node.node !== 'quay-sw' },
      })),
    }));
    const port = factsAfter(
      'ports: { "plot-1:en7": { speed: 1G } }',
      { intent, survey: { ...survey, nodes } },
      1,
    );
    expect(port('plot-1', 'en7')?.facts).toMatchObject({ operUp: false });
    expect(port('plot-1', 'en7')?.gaps?.['speedMbps']).toMatchObject({ reason: 'down' });
    expect(port('quay-sw', 'xg2')?.facts).toMatchObject({ operUp: false });
  });
});
