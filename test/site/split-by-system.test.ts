import { describe, expect, it } from 'vitest';
import { splitBySystem } from '../../src/site/split-by-system.ts';

const of = (system: string | undefined, ...sizes: readonly number[]) =>
  sizes.map((bytes) => ({ bytes, ...(system === undefined ? {} : { system }) }));

describe('a split by system', () => {
  it.each([
    [
      'two systems apart',
      [...of('macos', 1500, 1500), ...of('linux', 9000, 9000)],
      'linux 9000, macos 1500',
    ],
    ['all alike', [...of('macos', 9000, 9000), ...of('linux', 9000, 9000)], undefined],
    [
      'one system that differs within',
      [...of('macos', 1500, 9000), ...of('linux', 9000, 9000)],
      undefined,
    ],
    ['a system with one interface', [...of('macos', 1500), ...of('linux', 9000, 9000)], undefined],
    [
      'a system that is not known',
      [...of(undefined, 1500, 1500), ...of('linux', 9000, 9000)],
      undefined,
    ],
    ['nothing', [], undefined],
  ] as const)('%s', (_name, all, words) => {
    expect(splitBySystem(all)).toBe(words);
  });
});
