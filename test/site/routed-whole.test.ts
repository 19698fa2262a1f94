import { describe, expect, it } from 'vitest';
import { newDraft } from '../../src/site/provenance.ts';
import { putRouted } from '../../src/site/routed-whole.ts';
import type { Hop, HopClearance } from '../../src/site/types.ts';
import { plottingSite } from './plotting-site.ts';

const [base] = plottingSite().paths;
if (base === undefined) throw new Error('no path');
const [hop] = base.hops;
if (hop === undefined) throw new Error('no hop');

type Sketch = readonly [position: Hop['position'], bytes: number | undefined];

function routed(...sketch: readonly Sketch[]) {
  const hops = sketch.map(([position, bytes]): Hop => {
    const known = { atLeastBytes: bytes, atMostBytes: bytes } as HopClearance;
    const gap = { reason: 'denied', words: 'no' } as const;
    return {
      ...(hop as Hop),
      position,
      clearance: bytes === undefined ? { gap, onWord: false } : { ...known, onWord: false },
    };
  });
  const draft = newDraft();
  putRouted(draft, { ...(base as NonNullable<typeof base>), hops }, 'from');
  return { ...draft.facts, gap: draft.gaps['routedWhole']?.reason };
}

describe('what routers pass of what the sender sends', () => {
  it.each([
    [
      'no router',
      [
        ['from', 9000],
        ['switch', 1500],
        ['to', 9000],
      ],
      {},
    ],
    [
      'a router as large',
      [
        ['from', 9000],
        ['router', 9000],
      ],
      { routedWhole: true, senderBytes: 9000 },
    ],
    [
      'a router that is larger',
      [
        ['from', 1500],
        ['router', 9000],
      ],
      { routedWhole: true, senderBytes: 1500 },
    ],
    [
      'the smaller of two routers',
      [
        ['from', 9000],
        ['router', 4000],
        ['router', 1500],
        ['to', 1500],
      ],
      { routedWhole: false, senderBytes: 9000, shrinksAt: 'plot-1:desk', shrinksToBytes: 1500 },
    ],
    [
      'a router that was not read',
      [
        ['from', 9000],
        ['router', undefined],
      ],
      { gap: 'denied' },
    ],
    [
      'a sender that was not read',
      [
        ['from', undefined],
        ['router', 1500],
      ],
      { gap: 'denied' },
    ],
  ] as const)('%s', (_name, sketch, found) => {
    expect(routed(...sketch)).toEqual({ gap: undefined, ...found });
  });
});
