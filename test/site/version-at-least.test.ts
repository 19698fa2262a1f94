import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { versionAtLeast } from '../../src/site/version-at-least.ts';

describe('versionAtLeast', () => {
  it.each([
    ['14.5', '14.5', true],
    ['14.5.0', '14.5', true],
    ['14.5', '14.5.0', true],
    ['14.5.1', '14.5', true],
    ['14.10', '14.9', true],
    ['15', '14.5', true],
    ['14.4.9', '14.5', false],
    ['9', '10', false],
    ['10.0.22631.4317', '10.0.26100', false],
    ['10.0.26100.1742', '10.0.26100', true],
    ['014.5', '14.5', true],
  ])('%s against %s: %s', (version, wanted, expected) => {
    expect(versionAtLeast(version, wanted)).toBe(expected);
  });

  it.each([
    ['6.1.0-28-amd64'],
    ['14.5 beta'],
    ['14..5'],
    ['.5'],
    ['14.'],
    ['v14'],
    [''],
    ['1e3'],
    ['-1'],
    ['1234567890'],
    ['1.2.3.4.5.6.7.8.9'],
  ])('cannot tell of %j', (version) => {
    expect(versionAtLeast(version, '14.5')).toEqual({
      reason: 'unreadable',
      words: `version "${version}" is not made of numbers with dots`,
    });
  });

  it('orders any two versions, and says so of one of them or of both', () => {
    const version = fc.array(fc.nat(99), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(version, version, (a, b) => {
        const [one, two] = [a.join('.'), b.join('.')];
        const there = versionAtLeast(one, two);
        const back = versionAtLeast(two, one);
        expect(there || back).toBe(true);
        const pad = (parts: number[]) => Array.from({ length: 8 }, (_, at) => parts[at] ?? 0);
        expect(there && back).toBe(pad(a).join() === pad(b).join());
      }),
    );
  });
});
