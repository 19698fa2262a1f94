import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cleanText } from '../../src/facts/clean-text.ts';

describe('cleanText', () => {
  it.each([
    ['plain text', 'Port 4', 'Port 4'],
    ['a colour sequence', '\u001b[31mred\u001b[0m', '[31mred [0m'],
    ['a terminal title', '\u001b]0;owned\u0007x', ']0;owned x'],
    ['C1 controls', 'a\u009bb', 'a b'],
    ['a line break', 'a\r\nb\tc', 'a b c'],
    ['NUL', 'a\u0000b', 'a b'],
    ['right-to-left override', 'a\u202egnp.exe', 'a gnp.exe'],
    ['isolates', '\u2066x\u2069', 'x'],
    ['zero width', 'a\u200bb\ufeff', 'a b'],
    ['a lone surrogate', 'a\ud800b', 'a b'],
    ['tag characters', 'a\u{e0041}b', 'a b'],
    ['wide characters', '\u6e2f\u53e3 7', '\u6e2f\u53e3 7'],
    ['nothing', '', ''],
  ])('%s', (_name, text, clean) => {
    expect(cleanText(text)).toBe(clean);
  });

  it('cuts a flood and says so', () => {
    expect(cleanText('x'.repeat(1_000_000), 10)).toBe(`${'x'.repeat(9)}\u2026`);
    expect(cleanText('x'.repeat(10), 10)).toBe('x'.repeat(10));
  });

  it('cuts no character in half', () => {
    expect(cleanText(`${'x'.repeat(8)}\u{1f600}\u{1f600}`, 10)).toBe(`${'x'.repeat(8)}\u2026`);
  });

  it('never lets a control or a bidirectional character through, and is idempotent', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 600 }), (text) => {
        const clean = cleanText(text, 80);
        expect(clean).not.toMatch(/[\p{Cc}\p{Cs}\u202a-\u202e\u2066-\u2069]/u);
        expect(clean.length).toBeLessThanOrEqual(80);
        expect(cleanText(clean, 80)).toBe(clean);
      }),
    );
  });
});
