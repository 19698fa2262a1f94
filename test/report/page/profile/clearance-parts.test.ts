import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnsOf } from '../../../../src/report/layout.ts';
import { hatch } from '../../../../src/report/page/profile/hatch.ts';
import { lengthWords, runLines } from '../../../../src/report/page/profile/hop-lines.ts';
import { gaugeHeight } from '../../../../src/report/page/profile/speed-gauge.ts';
import { shorten } from '../../../../src/report/page/shorten.ts';
import { piece } from '../../samples.ts';

describe('a shortened text', () => {
  it.each([
    ['xg2', 'xg2'],
    ['fourteen chars', 'fourteen chars'],
    ['fifteen letters', 'fifteen lette…'],
    ['製図室の主計算機棚', '製図室の主計…'],
    ['e\u0301'.repeat(15), `${'e\u0301'.repeat(13)}…`],
    ['a\u202eb\nc', 'a b c'],
  ])('%j is %j in fourteen columns', (text, short) => {
    expect(shorten(text, 14)).toBe(short);
  });

  it('is never wider, whatever stands in it', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary', maxLength: 80 }),
        fc.integer({ min: 2, max: 40 }),
        (text, columns) => {
          expect(columnsOf(shorten(text, columns))).toBeLessThanOrEqual(columns);
        },
      ),
    );
  });
});

describe('a hatched box', () => {
  it('has lines, all inside it', () => {
    const side = fc.integer({ min: 1, max: 200 });
    fc.assert(
      fc.property(side, side, fc.integer({ min: 2, max: 12 }), (width, height, step) => {
        const lines = [
          ...hatch({ x: 30, y: 40, width, height }, step).matchAll(
            /M(-?\d+) (-?\d+)l(-?\d+) (-?\d+)/g,
          ),
        ];
        expect(lines.length).toBeGreaterThanOrEqual(width + height > 2 * step ? 1 : 0);
        for (const [, x, y, across, down] of lines) {
          for (const at of [Number(x), Number(x) + Number(across)]) {
            expect(at).toBeGreaterThanOrEqual(30);
            expect(at).toBeLessThanOrEqual(30 + width);
          }
          for (const at of [Number(y), Number(y) + Number(down)]) {
            expect(at).toBeGreaterThanOrEqual(40);
            expect(at).toBeLessThanOrEqual(40 + height);
          }
        }
      }),
    );
  });
});

describe('the gauge of speeds', () => {
  it('keeps every speed of the trade apart under 400 Gb/s', () => {
    // IEEE Std 802.3: rates of its MACs, in Mb/s; from memory.
    const rates = [10, 100, 1000, 2500, 5000, 10_000, 25_000, 40_000, 100_000, 400_000];
    const heights = rates.map((mbps) => gaugeHeight(mbps, 400_000));
    for (const [at, height] of heights.slice(1).entries())
      expect(height).toBeGreaterThan(heights[at] ?? 0);
    expect(heights[0]).toBeGreaterThan(0);
    expect(gaugeHeight(10, 10)).toBe(gaugeHeight(400_000, 400_000));
  });
});

describe('the lines of a run', () => {
  const cord = (lengthMetres?: number) => ({
    ...piece('cord', 'cord'),
    ...(lengthMetres === undefined ? {} : { lengthMetres }),
  });
  it.each([
    ['no run', [], ['run not declared'], undefined],
    ['lengths', [cord(0.1), cord(0.2)], ['cord', '0.3 m'], '0.3 m'],
    ['one without a length', [cord(2), cord()], ['cord', '2 m or more'], '2 m or more'],
    ['none with a length', [cord()], ['cord', 'length not declared'], undefined],
    ['no cable', [piece('panel', 'panel A/1', 'A/1')], ['A/1'], undefined],
  ])('%s', (_, run, lines, length) => {
    expect(runLines(run)).toEqual(lines);
    expect(lengthWords(run)).toBe(length);
  });
});
