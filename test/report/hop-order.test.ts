import { describe, expect, it } from 'vitest';
import { forkAt, pairedHops } from '../../src/report/hop-order.ts';
import { hop } from './samples.ts';

const a = hop({ port: 'a:1', distance: 0, link: 'a-s' });
const s1 = hop({ port: 's:1', distance: 1, link: 'a-s' });
const s2 = hop({ port: 's:2', distance: 1, link: 's-b' });
const s3 = hop({ port: 's:3', distance: 1, link: 's-b again' });
const b1 = hop({ port: 'b:1', distance: 2, link: 's-b' });
const b2 = hop({ port: 'b:2', distance: 2, link: 's-b again' });
const bond = hop({ port: 'b:bond0', distance: 2, layer: true });

describe('hops in drawing order', () => {
  it('puts both ends of a link next to each other', () => {
    const byDistance = [a, s1, s2, s3, b1, b2, bond];
    expect(pairedHops(byDistance).map(({ port }) => port.id)).toEqual([
      'a:1',
      's:1',
      's:2',
      'b:1',
      's:3',
      'b:2',
      'b:bond0',
    ]);
  });

  it('leaves an order alone that has them so already', () => {
    const hops = [a, s1, s2, b1, s3, b2, bond];
    expect(pairedHops(hops)).toEqual(hops);
  });

  const hops = [a, s1, s2, b1, s3, b2, bond];
  const lag = (id: string) => (id.startsWith('s-b') ? 'up' : undefined);
  const rows = [
    ['the first link', 0, lag, { kind: 'none' }],
    ['the next link', 2, lag, { kind: 'none' }],
    ['a member beside it', 4, lag, { kind: 'member', lag: 'up' }],
    ['another way', 4, () => undefined, { kind: 'instead' }],
    ['a layer', 6, lag, { kind: 'none' }],
  ] as const;
  for (const [name, at, lagOf, fork] of rows) {
    it(`${name}: ${fork.kind}`, () => expect(forkAt(hops, at, lagOf)).toEqual(fork));
  }
});
