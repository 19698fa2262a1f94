import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  findingFragment,
  linkFragment,
  nodeFragment,
  pathFragment,
  portFragment,
} from '../../../src/report/page/fragments.ts';

const anyName = fc.string({ unit: 'binary', maxLength: 200 });

describe('fragments', () => {
  const rows = [
    [nodeFragment('quay-sw'), 'node-quay-sw'],
    [nodeFragment('a.b_c'), 'node-a.b_c'],
    [portFragment('quay-sw', 'Port 4'), 'port-quay-sw~3aPort~204'],
    [portFragment('sw', 'a~b'), 'port-sw~3aa~7eb'],
    [linkFragment('plot-1:desk - quay-sw:xg2'), 'link-plot-1~3adesk~20-~20quay-sw~3axg2'],
    [pathFragment('plotting (a to b)'), 'path-plotting~20~28a~20to~20b~29'],
    [findingFragment('1f0c2d3e4b'), 'finding-1f0c2d3e4b'],
    [nodeFragment('Käfer\u202e'), 'node-K~u00e4fer~u202e'],
  ] as const;
  for (const [made, expected] of rows) {
    it(`are ${expected}`, () => expect(made).toBe(expected));
  }

  // RFC 3986, 3.5: these need no escape in a fragment; HTML 13.1.2.3: nor quotes as a value.
  it('need no escape in an id, an address or an unquoted value, and stay short', () => {
    fc.assert(fc.property(anyName, (name) => /^node-[\w.~-]{0,160}$/.test(nodeFragment(name))));
    expect(nodeFragment('x'.repeat(10_000)).length).toBeLessThan(160);
  });

  it('differ for names that differ, however long', () => {
    fc.assert(
      fc.property(anyName, anyName, (a, b) => {
        expect(nodeFragment(a) === nodeFragment(b)).toBe(a === b);
      }),
    );
    const long = 'x'.repeat(10_000);
    expect(nodeFragment(`${long}a`)).not.toBe(nodeFragment(`${long}b`));
    expect(nodeFragment('a~b')).not.toBe(nodeFragment('a\u000b'));
    expect(portFragment('a', 'b:c')).not.toBe(portFragment('a:b', 'd:c'));
  });
});
