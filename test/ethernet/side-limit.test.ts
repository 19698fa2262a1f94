import { describe, expect, it } from 'vitest';
import { parseEthtoolModes } from '../../src/ethernet/ethtool-mode.ts';
import { parseMauCapBits } from '../../src/ethernet/mau-cap-bits.ts';
import { listMayHide, listReaches, sideLimit } from '../../src/ethernet/side-limit.ts';

const known = parseEthtoolModes(['1000baseT/Full']);
const strange = parseEthtoolModes(['1000baseT/Full', 'BIT92']);
const faster = parseEthtoolModes(['25000baseCR/Full']);
const bits = parseMauCapBits(Uint8Array.of(0, 1, 0, 0));

describe('listReaches', () => {
  const rows = [
    ['has it', known, 1000, 'yes'],
    ['has more', faster, 10_000, 'yes'],
    ['has less', known, 2500, 'no'],
    ['has words not known', strange, 2500, 'unsaid'],
    ['has it beside words not known', strange, 1000, 'yes'],
    ['cannot say it', bits, 2500, 'unsaid'],
    ['could say it', bits, 10_000, 'no'],
  ] as const;
  it.each(rows)('%s', (_, list, wantedMbps, answer) => {
    expect(listReaches(list, wantedMbps)).toBe(answer);
  });
});

describe('listMayHide', () => {
  it('is so for silent speeds and words not known', () => {
    expect([listMayHide(known, 2500), listMayHide(strange, 2500)]).toEqual([false, true]);
    expect([listMayHide(bits, 2500), listMayHide(bits, 10_000)]).toEqual([true, false]);
  });
});

describe('sideLimit', () => {
  const rows = [
    ['nothing is advertised', {}, undefined],
    ['it is offered', { advertised: faster }, undefined],
    ['it may be offered', { advertised: strange }, undefined],
    ['it could be offered', { advertised: known, capable: faster }, 'advertisement'],
    ['it cannot be offered', { advertised: known, capable: known }, 'capability'],
    ['what could be offered is not read', { advertised: known }, 'unread'],
    ['what could be offered is not clear', { advertised: known, capable: strange }, 'unread'],
  ] as const;
  it.each(rows)('%s', (_, modes, by) => {
    const limit = sideLimit('partner', modes, 10_000);
    expect(limit).toEqual(by === undefined ? undefined : { side: 'partner', by });
  });
});
