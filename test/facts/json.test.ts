import { expect, it } from 'vitest';
import { stableJson } from '../../src/facts/json.ts';

it('gives equal bytes for equal values, whatever the order of keys', () => {
  expect(stableJson({ b: 1, a: [{ d: undefined, c: 2 }] })).toBe(
    stableJson({ a: [{ c: 2 }], b: 1 }),
  );
  expect(stableJson({ b: 1, a: { z: 0, y: 'x' } })).toBe(
    '{\n  "a": {\n    "y": "x",\n    "z": 0\n  },\n  "b": 1\n}\n',
  );
});
