import { describe, expect, it } from 'vitest';
import { paletteStyle } from '../../../src/report/page/palette.ts';

/** Relative luminance of `#rgb` or `#rrggbb` (WCAG 2.1, definitions). */
function luminance(colour: string): number {
  const full = colour.length === 4 ? colour.replace(/[0-9a-f]/g, '$&$&') : colour;
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(full.slice(at, at + 2), 16) / 255;
    return share <= 0.03928 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(a: string, b: string): number {
  const [low = 0, high = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

const looks = paletteStyle.split(/@media/).map((text) => ({
  name: /prefers-color-scheme:dark/.test(text) ? 'dark' : /^ print/.test(text) ? 'print' : 'light',
  colours: new Map([...text.matchAll(/--(\w+):(#[0-9a-f]+)/g)].map(([, name, c]) => [name, c])),
}));

describe('the palette', () => {
  it('measures contrast as WCAG does', () => {
    expect(contrast('#000', '#fff')).toBeCloseTo(21, 5);
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
  });

  it('has three looks', () => {
    expect(looks.map(({ name }) => name)).toEqual(['light', 'dark', 'print']);
  });

  const needed = { text: 4.5, focus: 3 };
  for (const { name, colours } of looks) {
    const paper = colours.get('paper') ?? '';
    for (const ink of ['ink', 'faint', 'load', 'strike', 'met', 'doubt', 'waived', 'focus']) {
      it(`can be read: ${ink} on paper, ${name}`, () => {
        const least = ink === 'focus' ? needed.focus : needed.text;
        expect(contrast(colours.get(ink) ?? '', paper)).toBeGreaterThanOrEqual(least);
      });
    }
    it(`has a colour for a line, ${name}`, () => {
      expect(colours.get('line')).toMatch(/^#[0-9a-f]{3,6}$/);
    });
  }
});
