import { describe, expect, it } from 'vitest';
import { framesPerSecondMax } from '../../src/ethernet/frame-rate.ts';

/**
 * RFC 5180 appendix A.1: frames a second at 10, 100, 1000 and 10000 Mb/s by frame size. Three
 * printed cells are misprints and stand here by the formula of the same appendix, rounded down as
 * A.2 says: 4096 at 1000 (printed 30,396), 4096 at 10000 (303,691), 9216 at 1000 (13,534).
 */
const table: readonly (readonly [number, number, number, number, number])[] = [
  [64, 14_880, 148_809, 1_488_095, 14_880_952],
  [128, 8_445, 84_459, 844_594, 8_445_945],
  [256, 4_528, 45_289, 452_898, 4_528_985],
  [512, 2_349, 23_496, 234_962, 2_349_624],
  [1024, 1_197, 11_973, 119_731, 1_197_318],
  [1280, 961, 9_615, 96_153, 961_538],
  [1518, 812, 8_127, 81_274, 812_743],
  [1522, 810, 8_106, 81_063, 810_635],
  [2048, 604, 6_044, 60_444, 604_448],
  [4096, 303, 3_036, 30_369, 303_692],
  [8192, 152, 1_522, 15_221, 152_216],
  [9216, 135, 1_353, 13_533, 135_339],
];

describe('RFC 5180 A.1, maximum frame rates', () => {
  it.each(table)('frames of %i bytes', (frame, ...rates) => {
    expect([10, 100, 1_000, 10_000].map((mbps) => framesPerSecondMax(mbps, frame))).toEqual(rates);
  });
});

/** RFC 2544 appendix B, the 10 Mb/s Ethernet column (from memory; each cell is the formula). */
const ethernet10: readonly (readonly [number, number])[] = [
  [64, 14_880],
  [128, 8_445],
  [256, 4_528],
  [512, 2_349],
  [768, 1_586],
  [1024, 1_197],
  [1280, 961],
  [1518, 812],
];

describe('RFC 2544 appendix B', () => {
  it.each(ethernet10)('frames of %i bytes', (frame, rate) => {
    expect(framesPerSecondMax(10, frame)).toBe(rate);
  });
});
