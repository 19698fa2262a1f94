import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Gap } from '../../src/facts/gap.ts';
import { newestProofs } from '../../src/facts/newest-proofs.ts';
import type { FitProof, TransferProof } from '../../src/facts/proof.ts';
import { subjectIn } from './builders.ts';
import { type PlottingSketch, plottingSite } from './plotting-site.ts';

// The survey of plotting-site ends at this time.
const readAt = Date.parse('2026-11-25T02:00:09.000Z');
const hourMs = 3_600_000;
const hoursBefore = (hours: number) => new Date(readAt - hours * hourMs).toISOString();

const host = { access: [{ via: 'ssh', name: 'hosts' }] } as const;
const hosts = { 'plot-1': host, vault: host };
const there = { from: 'plot-1', to: 'vault', toAddress: '198.18.20.2', at: hoursBefore(2) };
const back = { from: 'vault', to: 'plot-1', toAddress: '198.18.20.1', at: hoursBefore(2) };

function directionOf(fits: readonly FitProof[], more: PlottingSketch = {}) {
  const site = plottingSite({ nodes: hosts, proofs: { fits }, ...more });
  return subjectIn(site, 'directions', 'plotting: plot-1 to vault');
}

function gapsOf(subject: { readonly own?: { readonly gaps: Readonly<Record<string, Gap>> } }) {
  return subject.own?.gaps ?? {};
}

describe('a fit of a direction', () => {
  const rows: readonly [string, FitProof, Readonly<Record<string, unknown>>][] = [
    [
      'that passed the declared packet',
      { ...there, provenMtuBytes: 9000 },
      {
        isProven: true,
        provenMtuBytes: 9000,
        provenAgeHours: 2,
        declaredMtuPassed: true,
        proofAgrees: true,
        proofSays: '2026-11-25: 9000 bytes pass',
      },
    ],
    [
      'that lost it although every hop says it passes',
      { ...there, provenMtuBytes: 8996, lostBytes: 9000 },
      {
        provenMtuBytes: 8996,
        provenLostBytes: 9000,
        declaredMtuPassed: false,
        proofAgrees: false,
        proofAgainst: 'every hop that is declared says that 9000 bytes pass, and 9000 do not',
      },
    ],
    [
      'that did not try the declared packet says nothing of it',
      { ...there, provenMtuBytes: 1500 },
      { isProven: true, declaredMtuPassed: undefined, proofAgrees: true },
    ],
    [
      'from which nothing came back',
      { ...there, words: 'a firewall drops every ping' },
      {
        isProven: true,
        provenMtuBytes: undefined,
        declaredMtuPassed: undefined,
        proofSays: '2026-11-25: no packet came back (a firewall drops every ping)',
      },
    ],
    [
      'of shortly after the reading, as one that is put into a saved survey',
      { ...there, at: hoursBefore(-3), provenMtuBytes: 9000 },
      { isProven: true, provenAgeHours: 0 },
    ],
    [
      'of the last hour that counts',
      { ...there, at: hoursBefore(30 * 24), provenMtuBytes: 9000 },
      { isProven: true, provenAgeHours: 720 },
    ],
  ];
  it.each(rows)('%s', (_, fit, facts) => {
    const told = directionOf([fit]).facts;
    expect(Object.fromEntries(Object.keys(facts).map((name) => [name, told[name]]))).toEqual(facts);
  });

  const absent: readonly [string, readonly FitProof[], PlottingSketch, Gap | undefined][] = [
    [
      'never run',
      [],
      {},
      {
        reason: 'unasked',
        words: 'never run; run hopgauge fit plot-1 vault',
        cause: 'proof of path plotting',
      },
    ],
    [
      'of the other direction only',
      [{ ...back, provenMtuBytes: 9000 }],
      {},
      {
        reason: 'unasked',
        words: 'never run; run hopgauge fit plot-1 vault',
        cause: 'proof of path plotting',
      },
    ],
    [
      'older than a month',
      [{ ...there, at: hoursBefore(45 * 24), provenMtuBytes: 9000 }],
      {},
      {
        reason: 'doubtful',
        words: 'last run 45 days before; run hopgauge fit plot-1 vault again',
        cause: 'proof of path plotting',
      },
    ],
    [
      'of days after the reading',
      [{ ...there, at: hoursBefore(-49), provenMtuBytes: 9000 }],
      {},
      {
        reason: 'doubtful',
        words: 'run 2 days after this reading; see that the clock is right, and read again',
        cause: 'proof of path plotting',
      },
    ],
    [
      'to another address than the one in use',
      [{ ...there, toAddress: '198.18.99.2', provenMtuBytes: 9000 }],
      {},
      {
        reason: 'doubtful',
        words:
          '2026-11-25 packets went to 198.18.99.2, and the path goes to 198.18.20.2; run hopgauge fit plot-1 vault',
        cause: 'proof of path plotting',
      },
    ],
    [
      'that nothing could run, since nobody logs in to its sender',
      [],
      { nodes: { vault: host } },
      undefined,
    ],
  ];
  it.each(absent)('is absent with its reason: %s', (_, fits, more, gap) => {
    const subject = directionOf(fits, more);
    expect(subject.facts['provenMtuBytes']).toBeUndefined();
    expect(subject.facts['isProven']).toBe(false);
    expect(gapsOf(subject)['provenMtuBytes']).toEqual(gap);
    expect(gapsOf(subject)['declaredMtuPassed']).toEqual(gap);
  });

  it('does not accuse hops that it went around, nor what an interface takes in', () => {
    const fit = { ...there, provenMtuBytes: 9000 };
    const against = (more: PlottingSketch) => directionOf([fit], more).facts['proofAgainst'];
    expect(against({ xg2: { mtuBytes: 1500 }, xg3: { mtuBytes: 1400 } })).toBe(
      'quay-sw:xg2, quay-sw:xg3 cannot pass 9000 bytes by what was read, and they do pass',
    );
    expect(against({ eth4: { mtuBytes: 1500, addresses: ['198.18.20.2/24'] } })).toBeUndefined();
  });

  it('is explained by a route with an MTU of its own', () => {
    const fit = { ...there, provenMtuBytes: 1500, lostBytes: 2000 };
    const { facts } = directionOf([fit], {
      readings: {
        'plot-1': {
          ports: { desk: { mtuBytes: 9000, addresses: ['198.18.20.1/24'] } },
          routes: { '198.18.20.2': { device: 'desk', mtuBytes: 1500 } },
        },
      },
    });
    expect(facts).toMatchObject({ declaredMtuPassed: false, proofAgrees: true });
  });

  it('is asked for every night only of a sender that can run it', () => {
    const paths = {
      plotting: { from: ['plot-1'], to: ['vault'], over: ['storage'], fit: 'nightly' as const },
    };
    const site = plottingSite({ nodes: { 'plot-1': host }, intent: { paths } });
    const asked = (id: string) => subjectIn(site, 'directions', id).facts['fitAsked'];
    expect(asked('plotting: plot-1 to vault')).toBe(true);
    expect(asked('plotting: vault to plot-1')).toBe(false);
  });
});

describe('a transfer of a direction', () => {
  const transfer: TransferProof = {
    ...there,
    ...{ tookSeconds: 10, bytes: 11_750_000_000, streams: 1, goodputMbps: 9400 },
  };
  const wanting = { from: ['plot-1'], to: ['vault'], over: ['storage'], goodputMbps: 9500 };
  it('gives its goodput and its age', () => {
    const { facts } = directionOf([], { proofs: { transfers: [transfer] } });
    expect(facts).toMatchObject({
      isMeasured: true,
      measuredGoodputMbps: 9400,
      measuredAgeHours: 2,
      measuredOn: '2026-11-25',
    });
    expect(facts['isProven']).toBe(false);
  });

  it('gives no more figures than a transfer tells', () => {
    const transfers = [{ ...transfer, goodputMbps: 6232.276962388209 }];
    expect(directionOf([], { proofs: { transfers } }).facts['measuredGoodputMbps']).toBe(6232);
  });

  it.each([
    [9025, true],
    [9024, false],
  ])('of %d Mb/s reaches 9500 declared ones: %s', (goodputMbps, reached) => {
    const proofs = { transfers: [{ ...transfer, goodputMbps }] };
    const direction = directionOf([], { proofs, intent: { paths: { plotting: wanting } } });
    expect(direction.facts['declaredGoodputReached']).toBe(reached);
  });

  it('leaves open whether one that nobody measured reaches it, and says why', () => {
    const direction = directionOf([], { intent: { paths: { plotting: wanting } } });
    expect(direction.facts).not.toHaveProperty('declaredGoodputReached');
    expect(gapsOf(direction)['declaredGoodputReached']?.words).toBe(
      'never run; run hopgauge transfer plot-1 vault',
    );
  });

  it('gives no goodput of one that a cap ended in its start', () => {
    const transfers = [{ ...transfer, tookSeconds: 0.128, bytes: 100e6, goodputMbps: 6232 }];
    const paths = { plotting: wanting };
    const direction = directionOf([], { proofs: { transfers }, intent: { paths } });
    expect(direction.facts).toMatchObject({ isMeasured: true });
    for (const name of ['measuredGoodputMbps', 'declaredGoodputReached']) {
      expect(direction.facts).not.toHaveProperty(name);
      expect(gapsOf(direction)[name]).toEqual({
        reason: 'doubtful',
        words:
          'the transfer of 2026-11-25 ended after 0.1 s; measure again with a larger --at-most, or without one',
      });
    }
  });
});

describe('a path', () => {
  const pathOf = (sketch: PlottingSketch) =>
    subjectIn(plottingSite({ nodes: hosts, ...sketch }), 'paths', 'plotting');

  it('is proven for what passes both ways', () => {
    const fits = [
      { ...there, provenMtuBytes: 9000 },
      { ...back, provenMtuBytes: 8996, lostBytes: 9000 },
    ];
    expect(pathOf({ proofs: { fits } }).facts['provenMtuBytes']).toBe(8996);
    const oneWay = pathOf({ proofs: { fits: fits.slice(0, 1) } });
    expect(oneWay.facts['provenMtuBytes']).toBeUndefined();
    expect(gapsOf(oneWay)['provenMtuBytes']?.words).toBe(
      'never run; run hopgauge fit vault plot-1',
    );
  });

  it('keeps its doubt where settings do not tell, with the proof beside the reason', () => {
    // 9010 is between 9000 and 9018: what the switch counts decides.
    const doubt = { xg2: { mtuBytes: 9010 } };
    const words = (fits: readonly FitProof[]) =>
      gapsOf(pathOf({ ...doubt, proofs: { fits } }))['carriesDeclaredMtu']?.words ?? '';
    const before = words([]);
    expect(before).not.toBe('');
    expect(words([{ ...there, provenMtuBytes: 9000 }])).toBe(
      `${before}; a fit of 2026-11-25 passed 9000 bytes from plot-1 to vault`,
    );
    expect(words([there, back].map((way) => ({ ...way, provenMtuBytes: 9000 })))).toBe(
      `${before}; a fit of 2026-11-25 passed 9000 bytes both ways: if no other way is there, mtuCounts can say so for good`,
    );
    expect(words([{ ...back, provenMtuBytes: 8996, lostBytes: 9000 }])).toBe(
      `${before}; a fit of 2026-11-25 lost 9000 bytes from vault to plot-1`,
    );
    const { facts } = pathOf({ ...doubt, proofs: { fits: [{ ...there, provenMtuBytes: 9000 }] } });
    expect(facts['carriesDeclaredMtu']).toBeUndefined();
  });
});

describe('the newest proofs', () => {
  const name = fc.constantFrom('plot-1', 'vault', 'store');
  const proofs = fc.array(
    fc.record({
      ...{ from: name, to: name, toAddress: fc.constantFrom('198.18.20.1', '198.18.30.1') },
      at: fc.integer({ min: 0, max: 500 }).map(hoursBefore),
      provenMtuBytes: fc.integer({ min: 68, max: 9000 }),
    }),
  );

  it('are one of each direction and address, none older than another of it, in one order', () => {
    fc.assert(
      fc.property(proofs, (all) => {
        const kept = newestProofs(all);
        const key = ({ from, to, toAddress }: FitProof) => `${from} ${to} ${toAddress}`;
        expect(new Set(kept.map(key))).toEqual(new Set(all.map(key)));
        expect(new Set(kept.map(key)).size).toBe(kept.length);
        for (const proof of all) {
          const own = kept.find((each) => key(each) === key(proof));
          expect(own !== undefined && own.at >= proof.at).toBe(true);
        }
        expect(newestProofs(kept)).toEqual(kept);
        expect(newestProofs([...all].reverse()).map(key)).toEqual(kept.map(key));
      }),
    );
  });
});
