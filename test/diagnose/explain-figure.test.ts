import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { explainFigure } from '../../src/diagnose/explain-figure.ts';
import type { Explanation, FigureGiven } from '../../src/diagnose/explanation.ts';
import { parseFigure } from '../../src/diagnose/measured-figure.ts';
import { goodputMbps, usualStack } from '../../src/ethernet/goodput.ts';
import { ethernetSpeedsMbps } from '../../src/intent/speed.ts';

function explained(text: string, given: Partial<FigureGiven> = {}) {
  const figure = parseFigure(text);
  if (figure === undefined) throw new Error(`no figure ${text}`);
  return explainFigure(figure, { stack: usualStack, ...given });
}

/** An explanation in a word: `lower-rate 1000/1500`, `usb-2`, `window 0.2`. */
function short(explanation: Explanation | undefined): string {
  if (explanation === undefined) return 'nothing';
  switch (explanation.kind) {
    case 'link':
      return `${explanation.role} ${explanation.rateMbps}/${explanation.packetBytes}`;
    case 'window':
      return `window ${explanation.rttMs.toFixed(2)}${explanation.rttGiven ? '' : '?'}`;
    default:
      return explanation.kind;
  }
}

const ten = { rateMbps: 10_000, packetBytes: 9000 };

describe('figures that practice quotes (common practice) find their cause first', () => {
  const rows: readonly (readonly [string, Partial<FigureGiven>, string])[] = [
    ['941M', {}, 'some-link 1000/1500'],
    ['941Mbit/s', {}, 'some-link 1000/1500'],
    ['112MiB/s', {}, 'some-link 1000/1500'],
    ['117MB/s', {}, 'some-link 1000/1500'],
    ['94.1M', {}, 'some-link 100/1500'],
    ['11.2MiB/s', {}, 'some-link 100/1500'],
    ['2.35G', {}, 'some-link 2500/1500'],
    ['281MiB/s', {}, 'some-link 2500/1500'],
    ['4.71G', {}, 'some-link 5000/1500'],
    ['9.41G', {}, 'some-link 10000/1500'],
    ['9.42Gbit/s', {}, 'some-link 10000/1500'],
    ['1122MiB/s', {}, 'some-link 10000/1500'],
    ['9.90G', {}, 'some-link 10000/9000'],
    ['990M', {}, 'some-link 1000/9000'],
    ['23.5G', {}, 'some-link 25000/1500'],
    ['24.8G', {}, 'some-link 25000/9000'],
    ['300M', {}, 'usb-2'],
    ['941M', { rateMbps: 1000, packetBytes: 1500 }, 'as-given 1000/1500'],
    ['9.90G', ten, 'as-given 10000/9000'],
    ['9.41G', ten, 'smaller-packet 10000/1500'],
    ['941M', ten, 'lower-rate 1000/1500'],
    ['990M', ten, 'lower-rate 1000/9000'],
    ['2.35G', ten, 'lower-rate 2500/1500'],
    ['4.95G', ten, 'lower-rate 5000/9000'],
    ['94.1M', { rateMbps: 1000 }, 'lower-rate 100/1500'],
    ['9.90G', { rateMbps: 10_000, packetBytes: 1500 }, 'larger-packet 10000/9000'],
    ['2.35G', { rateMbps: 1000, packetBytes: 1500 }, 'higher-rate 2500/1500'],
    ['9.41G', { rateMbps: 20_000 }, 'one-member 10000/1500'],
    ['9.90G', { rateMbps: 40_000, packetBytes: 9000 }, 'lower-rate 10000/9000'],
    ['280M', { rateMbps: 1000 }, 'usb-2'],
    ['350M', { rateMbps: 2500 }, 'usb-2'],
    ['2.6G', { ...ten, rttMs: 0.2 }, 'window 0.20'],
    ['524M', { ...ten, rttMs: 1 }, 'window 1.00'],
    ['6.8G', ten, 'bus'],
    ['3.5G', ten, 'bus'],
    ['3.9G', ten, 'window 0.13?'],
    ['12G', ten, 'nothing'],
  ];
  it.each(rows)('%s with %o', (text, given, first) => {
    expect(short(explained(text, given).explanations[0])).toBe(first);
  });
});

describe('the other explanations', () => {
  it('come after: the wider the claim, the later', () => {
    expect(explained('2.35G', { ...ten, rttMs: 0.22 }).explanations.map(short)).toEqual([
      'lower-rate 2500/1500',
      'window 0.22',
    ]);
    expect(explained('3.5G', ten).explanations.map(short)).toEqual(['bus', 'window 0.15?']);
  });

  it('leave a round trip that nobody measured out where a link comes out', () => {
    expect(explained('2.35G', ten).explanations.map(short)).toEqual(['lower-rate 2500/1500']);
  });

  it('are not looked for where the line as given is enough', () => {
    expect(explained('9.41G', { rateMbps: 10_000, packetBytes: 1500 }).explanations).toHaveLength(
      1,
    );
  });

  it('name the buses that carry no more, by lanes and generation', () => {
    const [bus] = explained('6.8G', ten).explanations;
    expect(bus).toMatchObject({
      kind: 'bus',
      portMbps: 10_000,
      buses: [
        { kind: 'pcie', generation: 1, lanes: 4 },
        { kind: 'pcie', generation: 2, lanes: 2 },
        { kind: 'pcie', generation: 3, lanes: 1 },
      ],
    });
  });

  it('leave a window out that a given round trip rules out', () => {
    const kinds = explained('3.9G', { ...ten, rttMs: 0.05 }).explanations.map(({ kind }) => kind);
    expect(kinds).not.toContain('window');
  });
});

describe('a figure that nothing explains', () => {
  it('stands between the links next to it', () => {
    const { explanations, below, above } = explained('3.9G', ten);
    expect(explanations.map(short)).toEqual(['window 0.13?']);
    expect(below).toMatchObject({ rateMbps: 2500, packetBytes: 9000 });
    expect(above).toMatchObject({ rateMbps: 5000, packetBytes: 1500 });
  });

  it('may be more than the line carries', () => {
    expect(explained('12G', ten).aboveCeiling).toBe(true);
    expect(explained('9.90G', ten).aboveCeiling).toBe(false);
    expect(explained('12G').aboveCeiling).toBe(false);
  });
});

describe('the packets that a figure fits', () => {
  it('are a range around 1500 for 9.41 Gb/s', () => {
    const [link] = explained('9.41G', ten).explanations;
    if (link?.kind !== 'link') throw new Error('no link');
    // By hand: 9404.06 and 9510.1 of 10000 give (52 + 38 f) / (1 - f).
    expect(link.packetBytesLeast).toBe(1473);
    expect(link.packetBytesMost).toBe(1799);
  });

  it('have no end above where one per cent is more than any header', () => {
    const [link] = explained('9.90G', ten).explanations;
    expect(link).not.toHaveProperty('packetBytesMost');
  });

  it('hold the packet that was measured, for every rate and size', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...ethernetSpeedsMbps),
        fc.integer({ min: 576, max: 9216 }),
        fc.double({ min: 0.9901, max: 1.0001, noNaN: true }),
        (rateMbps, packetBytes, share) => {
          const mbps = goodputMbps(rateMbps, packetBytes, usualStack) * share;
          const given = { rateMbps, packetBytes, stack: usualStack };
          const [link] = explainFigure({ mbps, roundingShare: 0 }, given).explanations;
          if (link?.kind !== 'link') throw new Error('not explained');
          expect(link.role).toBe('as-given');
          expect(link.packetBytesLeast).toBeLessThanOrEqual(packetBytes);
          expect(link.packetBytesMost ?? 65_535).toBeGreaterThanOrEqual(packetBytes);
        },
      ),
    );
  });
});

describe('other headers', () => {
  it('are told beside the given ones where they fit as well', () => {
    const [link] = explained('9.90G', ten).explanations;
    if (link?.kind !== 'link') throw new Error('no link');
    expect(link.stack).toEqual(usualStack);
    expect(link.alsoStacks).toContainEqual({ ipVersion: 4, timestamps: false, tags: 0 });
    expect(link.alsoStacks).not.toContainEqual(usualStack);
  });

  it('are taken where the given ones do not fit: 928 Mb/s is IPv6', () => {
    const [link] = explained('928.5M', { rateMbps: 1000, packetBytes: 1500 }).explanations;
    expect(link).toMatchObject({ role: 'as-given', stack: { ipVersion: 6, timestamps: true } });
  });
});

it('never gives a number that is none, whatever the figure', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1e-3, max: 1e9, noNaN: true }),
      fc.option(fc.double({ min: 0.001, max: 1e6, noNaN: true }), { nil: undefined }),
      fc.option(fc.integer({ min: 68, max: 65_535 }), { nil: undefined }),
      (mbps, rateMbps, packetBytes) => {
        const diagnosis = explainFigure(
          { mbps, roundingShare: 0.001 },
          {
            stack: usualStack,
            ...(rateMbps === undefined ? {} : { rateMbps }),
            ...(packetBytes === undefined ? {} : { packetBytes }),
          },
        );
        expect(JSON.stringify(diagnosis)).not.toContain('null');
      },
    ),
  );
});
