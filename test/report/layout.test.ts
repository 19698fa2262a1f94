import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { centre, clean, columnsOf, noBreak, padEnd, wrap } from '../../src/report/layout.ts';

describe('wrap', () => {
  const rows: readonly [string, string, string, number, readonly string[]][] = [
    ['fits', 'do  ', 'raise it', 20, ['do  raise it']],
    ['breaks at blanks', '  - ', 'one two three', 12, ['  - one two', '    three']],
    ['cuts a long word', '', 'abcdefghijkl', 8, ['abcdefgh', 'ijkl']],
    ['counts wide characters', '', '東棚東棚東棚', 8, ['東棚東棚', '東棚']],
    ['keeps a joined pair', '', `12345 a${noBreak}b`, 8, ['12345', 'a b']],
    ['nothing', 'x ', '', 10, ['x']],
  ];
  for (const [name, lead, text, width, lines] of rows) {
    it(name, () => expect(wrap(lead, text, width)).toEqual(lines));
  }

  it('loses no character and never exceeds its width', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 80 }), fc.integer({ min: 12, max: 60 }), (raw, width) => {
        const text = clean(raw);
        const lines = wrap('  ', text, width);
        expect(Math.max(...lines.map(columnsOf))).toBeLessThanOrEqual(width);
        expect(lines.join('').replace(/\s/g, '')).toBe(text.replace(/\s/g, ''));
      }),
    );
  });
});

describe('padding', () => {
  it('pads by columns, not by characters', () => {
    expect(padEnd('東', 4)).toBe('東  ');
    expect(padEnd('long', 2)).toBe('long');
    expect(centre('ab', 5, '.')).toBe('.ab..');
  });
});
