import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseJson, stableJson, stableJsonPieces } from '../../src/facts/json.ts';

it('gives equal bytes for equal values, whatever the order of keys', () => {
  expect(stableJson({ b: 1, a: [{ d: undefined, c: 2 }] })).toBe(
    stableJson({ a: [{ c: 2 }], b: 1 }),
  );
  expect(stableJson({ b: 1, a: { z: 0, y: 'x' } })).toBe(
    '{\n  "a": {\n    "y": "x",\n    "z": 0\n  },\n  "b": 1\n}\n',
  );
});

describe('in pieces', () => {
  const long = (of: unknown) => Array.from({ length: 130 }, () => of);

  it.each([
    ['nothing long', { b: [1, 'a\u001b'], a: {} }],
    ['a long list, in a map', { z: 1, list: long({ d: [1, { '9': 1, '10': 2 }], c: undefined }) }],
    ['long lists in a list in a map', { runs: [{ results: long('a\nb') }] }],
    ['deeper lists', { a: { b: { c: { d: { e: long(1) } } } } }],
    ['keys that are numbers', { b: long(undefined), '10': 1, '9': 2, x: undefined }],
    ['a long list alone', long([])],
  ])('of %s it is the same text', (_, value) => {
    expect([...stableJsonPieces(value)].join('')).toBe(stableJson(value));
  });

  it('takes items that are made one by one', () => {
    const made = (items: readonly unknown[]) => new Set(items).values();
    const text = (list: unknown) => [...stableJsonPieces({ a: 1, list })].join('');
    expect(text(made([{ b: 1 }, 2]))).toBe(stableJson({ a: 1, list: [{ b: 1 }, 2] }));
    expect(text(made([]))).toBe(stableJson({ a: 1, list: [] }));
    expect(text([{ in: made([3]) }])).toBe(stableJson({ a: 1, list: [{ in: [3] }] }));
  });

  it('comes item by item', () => {
    expect([...stableJsonPieces({ list: long(1) })].length).toBeGreaterThan(130);
  });
});

describe('hostile text', () => {
  it.each([
    ['escape sequence', 'a\u001b[2Jb', '"a\\u001b[2Jb"\n'],
    ['control sequence in one character', 'a\u009b2Jb', '"a\\u009b2Jb"\n'],
    ['right-to-left override', 'a\u202eb', '"a\\u202eb"\n'],
    ['tag character of two units', 'a\u{e0041}b', '"a\\udb40\\udc41b"\n'],
    ['line break', 'a\nb', '"a\\nb"\n'],
    ['wide and accented text, as it is', '東 Größe', '"東 Größe"\n'],
  ])('%s', (_, text, json) => {
    expect(stableJson(text)).toBe(json);
    expect(parseJson(json)).toBe(text);
  });

  it('is never on the terminal, and comes back as it was', () => {
    fc.assert(
      fc.property(
        fc.dictionary(fc.string({ unit: 'binary' }), fc.string({ unit: 'binary' })),
        (value) => {
          const json = stableJson(value);
          expect(json).not.toMatch(
            /[^\n\P{Cc}]|[\p{Cs}\u061c\u200b-\u200f\u2028-\u202e\u2066-\u2069]/u,
          );
          expect(parseJson(json)).toEqual(value);
        },
      ),
    );
  });
});
