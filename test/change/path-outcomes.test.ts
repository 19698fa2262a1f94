import { describe, expect, it } from 'vitest';
import type { PathState } from '../../src/change/foretell.ts';
import { pathVerdict, wayOutcomes } from '../../src/change/path-outcomes.ts';
import type { Site } from '../../src/site/types.ts';

type Bytes = number | undefined;
/** At least, at most, declared; in bytes. */
type Range = readonly [least?: Bytes, most?: Bytes, declared?: Bytes];

function state([least, most, declared]: Range, joined = true): PathState {
  return {
    id: 'plotting',
    joined,
    ...(least === undefined ? {} : { atLeastBytes: least }),
    ...(most === undefined ? {} : { atMostBytes: most }),
    ...(declared === undefined ? {} : { declaredBytes: declared }),
  };
}

describe('the verdict on a path', () => {
  const no = undefined;
  it.each<[string, Range, Range, string]>([
    ['the same', [9000, 9000, 9000], [9000, 9000, 9000], 'as-foretold'],
    ['less for certain', [9000, 9000, 9000], [1500, 1500, 9000], 'less'],
    ['at most less', [9000, 9000, 9000], [no, 8999, 9000], 'less'],
    ['more for certain', [1500, 1500, 9000], [9000, 9000, 9000], 'more'],
    ['perhaps less', [9000, 9000, 9000], [1500, 9000, 9000], 'cannot-tell'],
    ['not known any more', [9000, 9000, 9000], [no, no, 9000], 'cannot-tell'],
    ['an end not known any more', [9000, 9000, 9000], [no, 9000, 9000], 'cannot-tell'],
    ['not known, and known now', [no, no, 9000], [9000, 9000, 9000], 'as-foretold'],
    ['not known, and too small now', [no, no, 9000], [1500, 1500, 9000], 'cannot-tell'],
    ['declared, foretold as possible alone', [1500, no, 9000], [1500, no, 9000], 'cannot-tell'],
    [
      'not yet what is declared, as foretold',
      [1496, 1500, 9000],
      [1496, 1500, 9000],
      'as-foretold',
    ],
    ['without anything declared', [1500, no], [1500, no], 'as-foretold'],
  ])('%s', (_, foretold, found, verdict) => {
    expect(pathVerdict(state(foretold), state(found), true)).toBe(verdict);
  });

  it('is no fault of the change where it was never known and the change does not touch it', () => {
    const dark = state([]);
    expect(pathVerdict(dark, dark, false)).toBe('never-known');
    expect(pathVerdict(dark, dark, true)).toBe('cannot-tell');
  });

  it('counts ends that are not joined', () => {
    const [joined, apart] = [state([9000, 9000]), state([], false)];
    expect(pathVerdict(joined, apart, true)).toBe('less');
    expect(pathVerdict(apart, joined, true)).toBe('more');
    expect(pathVerdict(apart, apart, true)).toBe('as-foretold');
  });
});

function siteOf(facts: Readonly<Record<string, boolean>>): Site {
  const id = 'plotting: plot-1 to vault';
  const subject = { kind: 'direction' as const, id, facts, shared: { sources: {}, gaps: {} } };
  const none = { nodes: [], ports: [], links: [], segments: [], paths: [] };
  const directions = [{ id, path: 'plotting', from: 'plot-1', to: 'vault', subject }];
  return { ...none, directions } as unknown as Site;
}

describe('a direction', () => {
  it.each([
    ['still well', { routedWhole: true }, { routedWhole: true }, []],
    ['no longer', { routedWhole: true }, { routedWhole: false }, ['routed-whole less']],
    ['not known any more', { leavesByDeclaredPort: true }, {}, ['leaves cannot-tell']],
    [
      'by another port',
      { leavesByDeclaredPort: true },
      { leavesByDeclaredPort: false },
      ['leaves less'],
    ],
    ['bad before as well', { routedWhole: false }, { routedWhole: false }, []],
    ['never known', {}, {}, []],
  ])('%s', (_, foretold, found, told) => {
    const outcomes = wayOutcomes(siteOf(foretold), siteOf(found));
    expect(outcomes.map(({ what, verdict }) => `${what} ${verdict}`)).toEqual(told);
  });
});
