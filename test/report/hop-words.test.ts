import { describe, expect, it } from 'vitest';
import { hopWords } from '../../src/report/hop-words.ts';
import type { Stand } from '../../src/report/opening.ts';
import { type HopSketch, hop } from './samples.ts';

const quay = { port: 'quay-sw:xg3', distance: 1, speed: 10_000, duplex: 'full' } as const;

describe('what is said beside an opening', () => {
  const rows: readonly (readonly [string, HopSketch, Stand, string])[] = [
    [
      'rate alone where all is well',
      { ...quay, least: 9198, most: 9198 },
      'passes',
      '10 Gb/s full',
    ],
    [
      'the number of the port where what it counts leaves a range',
      { ...quay, least: 9194, most: 9216, facts: { mtuBytes: 9216 } },
      'passes',
      '10 Gb/s full, says 9216',
    ],
    [
      'no number where none was read',
      { ...quay, least: 9194, most: 9216, facts: { mtuBytes: undefined } },
      'passes',
      '10 Gb/s full',
    ],
    [
      'no number of a hop on the owner’s word',
      { ...quay, least: 9194, most: 9216, onWord: true },
      'passes',
      '10 Gb/s full, on your word',
    ],
    [
      'a port without a link',
      { ...quay, least: 9198, most: 9198, facts: { operUp: false, adminUp: true } },
      'passes',
      'link down',
    ],
    [
      'a port without a link that a route still leads over',
      { ...quay, least: 9198, most: 9198, inUse: true, facts: { operUp: false, adminUp: true } },
      'passes',
      'link down',
    ],
    [
      'a way in use',
      { ...quay, least: 9198, most: 9198, inUse: true },
      'passes',
      '10 Gb/s full, in use now',
    ],
    [
      'a way that stands by, it is not known why',
      { ...quay, least: 9198, most: 9198, inUse: false },
      'passes',
      '10 Gb/s full, standing by',
    ],
    [
      'a way that the spanning tree blocks',
      { ...quay, least: 9198, most: 9198, inUse: false, idleBecause: 'spanning-tree' },
      'passes',
      '10 Gb/s full, not in use: spanning tree blocks it',
    ],
    [
      'a member that its aggregate leaves out',
      { ...quay, least: 9198, most: 9198, inUse: false, idleBecause: 'lacp' },
      'passes',
      '10 Gb/s full, not in use: its aggregate leaves it out',
    ],
    [
      'a port that somebody switched off',
      { ...quay, least: 9198, most: 9198, facts: { operUp: false, adminUp: false } },
      'passes',
      'switched off',
    ],
  ];
  for (const [name, sketch, stand, words] of rows) {
    it(name, () => expect(hopWords(hop(sketch), stand)).toBe(words));
  }
});
