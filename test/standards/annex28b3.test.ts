import { describe, expect, it } from 'vitest';
import { linkModes } from '../../src/ethernet/link-modes.ts';
import { resolveNegotiation } from '../../src/ethernet/resolve-negotiation.ts';
import { annex28b3 } from '../ethernet/negotiation-oracle.ts';
import { modeNamed, nameOf } from '../ethernet/twisted-pair-modes.ts';

describe('IEEE 802.3 28B.3, priority of twisted-pair modes (secondary source)', () => {
  it('is the order of a set of modes (25GBASE-T and 40GBASE-T from memory)', () => {
    const turned = annex28b3.toReversed().map(modeNamed);
    expect(linkModes(turned).map(nameOf)).toEqual(annex28b3);
  });

  const pairs = annex28b3.slice(1).map((lower, index) => [annex28b3[index] ?? '', lower] as const);
  it.each(pairs)('%s before %s', (higher, lower) => {
    const both = linkModes([modeNamed(lower), modeNamed(higher)]);
    expect(resolveNegotiation(both, both)).toEqual(modeNamed(higher));
  });
});
