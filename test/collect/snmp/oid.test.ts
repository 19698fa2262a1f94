import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oidBytes, oidFollows, oidIndex, oidNumbers } from '../../../src/collect/snmp/oid.ts';

const arcs = fc.array(fc.integer({ min: 0, max: 300 }), { minLength: 1, maxLength: 6 });

const numbersOf = (oid: string) => oid.split('.').map(Number);

describe('oidFollows', () => {
  it.each([
    ['the same', '1.3.6', '1.3.6', false],
    ['a child', '1.3.6', '1.3.6.0', true],
    ['a parent', '1.3.6.0', '1.3.6', false],
    ['a larger number', '1.3.9', '1.3.10', true],
    ['a smaller number', '1.3.10', '1.3.9.5', false],
  ])('%s', (_, oid, next, follows) => {
    expect(oidFollows(numbersOf(oid), numbersOf(next))).toBe(follows);
  });

  it('orders as a comparison of zero-padded texts does', () => {
    const padded = (numbers: readonly number[]) =>
      numbers.map((number) => String(number).padStart(3, '0')).join('.');
    fc.assert(
      fc.property(arcs, arcs, (a, b) => {
        expect(oidFollows(a, b)).toBe(padded(a) < padded(b));
      }),
    );
  });
});

describe('oidIndex', () => {
  it.each([
    ['1.3.4', '1.3.4.7', '7'],
    ['1.3.4', '1.3.4.3.0', '3.0'],
    ['1.3.4', '1.3.41.7', undefined],
    ['1.3.4', '1.3.4', undefined],
  ])('%s in %s', (column, oid, index) => {
    expect(oidIndex(column, oid)).toBe(index);
  });
});

describe('oidNumbers', () => {
  it.each([
    ['1.3.4294967295', [1, 3, 4_294_967_295]],
    ['1..3', undefined],
    ['NaN.NaN', undefined],
    ['', undefined],
    ['1.3.', undefined],
    ['-1.3', undefined],
    ['1.99999999999', undefined],
  ])('%s', (oid, numbers) => {
    expect(oidNumbers(oid)).toEqual(numbers);
  });
});

describe('oidBytes', () => {
  // ITU-T X.690 8.19: the first two numbers share an octet, each other takes one per 7 bits.
  it.each([
    ['1.3.6.1.2.1.2.2.1.4.1', 10],
    ['1.3.6.1.2.1.2.2.1.4.128', 11],
    ['1.3.6.1.4.1.32473', 8],
    ['2.999.3', 2],
  ])('%s', (oid, bytes) => {
    expect(oidBytes(numbersOf(oid))).toBe(bytes);
  });
});
