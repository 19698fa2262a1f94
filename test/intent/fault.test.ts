import { describe, expect, it } from 'vitest';
import { faultLine, quoted, sortFaults } from '../../src/intent/fault.ts';
import { faultsMax } from '../../src/intent/limits.ts';
import type { InputFault } from '../../src/intent/types.ts';

const fault = (file: string, line: number, column: number): InputFault => ({
  place: { file, line, column },
  what: 'what',
  remedy: 'do',
});

describe('faultLine', () => {
  it.each<readonly [string, InputFault, string]>([
    ['what and do', fault('a.yaml', 3, 7), 'a.yaml:3:7: what; do'],
    ['what, seen and do', { ...fault('a.yaml', 3, 7), seen: "'x'" }, "a.yaml:3:7: what; 'x'; do"],
    [
      'nothing that moves a cursor',
      { ...fault('a\n.yaml', 3, 7), seen: quoted('\u001b[2J\u202ex') },
      "a .yaml:3:7: what; '[2J x'; do",
    ],
  ])('has %s', (_, given, expected) => {
    expect(faultLine(given)).toBe(expected);
  });
});

describe('sortFaults', () => {
  it('orders by file, then line, then column as numbers', () => {
    const shuffled = [fault('b', 1, 1), fault('a', 10, 1), fault('a', 9, 10), fault('a', 9, 2)];
    expect(sortFaults(shuffled).map(({ place }) => Object.values(place).join(':'))).toEqual([
      'a:9:2',
      'a:9:10',
      'a:10:1',
      'b:1:1',
    ]);
  });

  it('keeps so many and counts the rest', () => {
    const many = Array.from({ length: faultsMax + 3 }, (_, i) => fault('a', i + 1, 1));
    expect(sortFaults(many.slice(3))).toHaveLength(faultsMax);
    const [last] = sortFaults(many).slice(-1);
    expect(last?.what).toBe('3 more faults are not shown');
  });
});
