import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { type LinkSketch, makeIntent, makeSurvey, subjectIn } from './builders.ts';

const id = 'plot-1:en7 - vault:eth4';

function agreed(en7: PortReadFacts, eth4: PortReadFacts, link: LinkSketch = {}) {
  const intent = makeIntent({ nodes: { 'plot-1': {}, vault: {} }, links: { [id]: link } });
  const survey = makeSurvey({ 'plot-1': { ports: { en7 } }, vault: { ports: { eth4 } } });
  return subjectIn(buildSite(intent, survey, { strict: false }), 'links', id);
}

const at = (...addresses: readonly string[]) => ({ addresses });

describe('a subnet that both ends share', () => {
  it.each([
    ['one prefix', at('198.18.20.1/24'), at('198.18.20.2/24'), true],
    ['two prefixes', at('198.18.20.1/24'), at('198.18.99.2/24'), false],
    [
      'a prefix that holds the other and not the reverse',
      at('198.18.20.1/30'),
      at('198.18.20.9/24'),
      false,
    ],
    ['one of several', at('198.18.9.1/24', '2001:db8::1/64'), at('2001:db8::2/64'), true],
    ['no address at one end', at(), at('198.18.20.2/24'), false],
    ['no address at either', at(), at(), false],
  ] as const)('%s', (_name, en7, eth4, share) => {
    expect(agreed(en7, eth4).facts['endsShareSubnet']).toBe(share);
  });

  it('is not known where addresses were not read', () => {
    const { facts, own } = agreed({}, at('198.18.20.2/24'));
    expect(facts['endsShareSubnet']).toBeUndefined();
    expect(own?.gaps['endsShareSubnet']).toEqual({
      reason: 'unasked',
      words: 'the addresses of en7 were not read',
    });
  });

  it('is not asked of a link to a switch', () => {
    const intent = makeIntent({
      nodes: { 'plot-1': {}, 'quay-sw': {} },
      links: { 'plot-1:en7 - quay-sw:xg2': {} },
    });
    const site = buildSite(intent, undefined, { strict: false });
    const { facts, own } = subjectIn(site, 'links', 'plot-1:en7 - quay-sw:xg2');
    expect([facts['endsShareSubnet'], own?.gaps['endsShareSubnet']]).toEqual([
      undefined,
      undefined,
    ]);
  });
});

const cord = { kind: 'cord', category: 'cat6a', text: 'cord cat6a 2 m' } as const;
const fibre = { kind: 'fibre', category: 'om3', text: 'fibre om3 2 m' } as const;
const fixed = { autoNegotiation: false } as const;
const auto = { autoNegotiation: true } as const;

describe('ends that are fixed', () => {
  it.each([
    ['both, on twisted pair', fixed, fixed, cord, true],
    ['one of them', fixed, auto, cord, false],
    ['both, on fibre', fixed, fixed, fibre, undefined],
    ['one that does not say', fixed, {}, cord, undefined],
    ['both, virtual', { ...fixed, kind: 'virtual' }, fixed, cord, undefined],
  ] as const)('%s', (_name, en7, eth4, piece, both) => {
    expect(agreed(en7, eth4, { run: [piece] }).facts['bothFixed']).toBe(both);
  });
});

describe('pauses', () => {
  it.each([
    [
      'honoured both ways',
      { pauseRx: true, pauseTx: true },
      { pauseRx: true, pauseTx: true },
      true,
      undefined,
    ],
    [
      'sent by nobody',
      { pauseRx: false, pauseTx: false },
      { pauseRx: false, pauseTx: false },
      true,
      undefined,
    ],
    ['ignored by the second', { pauseTx: true }, { pauseRx: false }, false, 'vault:eth4'],
    ['ignored by the first', { pauseRx: false }, { pauseTx: true }, false, 'plot-1:en7'],
    ['not told by one', { pauseRx: true, pauseTx: true }, {}, undefined, undefined],
  ] as const)('%s', (_name, en7, eth4, heeded, ignoredBy) => {
    const { facts } = agreed(en7, eth4);
    expect([facts['pauseHeeded'], facts['pauseIgnoredBy']]).toEqual([heeded, ignoredBy]);
  });
});
