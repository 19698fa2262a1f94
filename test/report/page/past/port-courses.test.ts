import { describe, expect, it } from 'vitest';
import type { SitePast } from '../../../../src/drift/site-past.ts';
import { portCourses } from '../../../../src/report/page/past/port-courses.ts';
import { auditAt, changedAt, day, grownAt, pastOf } from './past-sketch.ts';

/** `from to value` or `from to (gap)` of each stretch of the first course of the only port. */
function stretchesOf(past: SitePast, still?: number): string[] {
  const [port] = portCourses(past, () => still);
  return (port?.courses[0]?.stretches ?? []).map(
    ({ from, to, value, gap }) =>
      `${from.slice(8, 10)} ${to.slice(8, 10)} ${value === undefined ? `(${gap})` : value}`,
  );
}

const node = 'quay-sw';
const port = 'xg3';
const mtu = { node, port, fact: 'mtuBytes' };
const six = [20, 21, 22, 23, 24, 25];

describe('the course of a port', () => {
  it.each<[string, SitePast, readonly string[]]>([
    [
      'a change is a step on the night that saw it',
      pastOf(six, { changes: [changedAt(22, 9216, 1500)] }),
      ['20 22 9216', '22 25 1500'],
    ],
    [
      'it begins when the port was first seen',
      pastOf(six, { changes: [{ ...changedAt(23, 9216, 1500), firstSeen: day(22) }] }),
      ['22 23 9216', '23 25 1500'],
    ],
    [
      'nights between the last reading and the change were not read',
      pastOf(six, { changes: [changedAt(24, 9216, 1500, 21)] }),
      ['20 22 9216', '22 24 (not read)', '24 25 1500'],
    ],
    [
      'a silence of the node is a gap, though the value is the same on both sides',
      pastOf(six, {
        changes: [changedAt(21, 9216, 1500)],
        silences: [{ node, seenAt: day(22, 9), endedAt: day(24) }],
      }),
      ['20 21 9216', '21 23 1500', '23 24 (the node was not read)', '24 25 1500'],
    ],
    [
      'a silence that lasts is a gap to the end',
      pastOf(six, { silences: [{ ...mtu, seenAt: day(22, 9) }] }),
      ['20 23 9216', '23 25 (not read)'],
    ],
    [
      'a port that is gone has no value, and has one again when it is back',
      pastOf(six, {
        changes: [
          changedAt(21, 9216, 1500),
          { ...changedAt(22, true, false), fact: 'present' },
          { ...changedAt(24, false, true), fact: 'present' },
        ],
      }),
      ['20 21 9216', '21 22 1500', '22 24 (the port was not there)', '24 25 1500'],
    ],
    [
      'where no audit ran for long nothing is known',
      pastOf([10, 11, 12, 13, 20, 21], { changes: [changedAt(11, 9216, 1500)] }),
      ['10 11 9216', '11 13 1500', '13 20 (no audit ran)', '20 21 1500'],
    ],
    [
      'what was left out of the store is not made up',
      pastOf(six, { changes: [changedAt(24, 9216, 1500)], cut: { changes: day(23) } }),
      ['23 24 9216', '24 25 1500'],
    ],
  ])('%s', (_, past, stretches) => {
    expect(stretchesOf(past, 9216)).toEqual(stretches);
  });

  it('of a fact that is silent and of which nothing is known is no course', () => {
    expect(
      portCourses(pastOf(six, { silences: [{ ...mtu, seenAt: day(22, 9) }] }), () => undefined),
    ).toEqual([]);
  });

  it('of a counter is what it added since the first night, and no zero where it was not read', () => {
    const past = pastOf(six, {
      growths: [grownAt(21, 7), grownAt(24, 5)],
      silences: [{ node, seenAt: day(22, 9), endedAt: day(24) }],
    });
    expect(stretchesOf(past)).toEqual([
      '20 21 0',
      '21 23 7',
      '23 24 (the node was not read)',
      '24 25 12',
    ]);
  });

  it('is there only for facts that moved or were silent', () => {
    const past = pastOf(six, { changes: [changedAt(22, 9216, 1500)], growths: [grownAt(23, 1)] });
    const facts = portCourses(past, () => 1).map(({ courses }) => courses.map(({ fact }) => fact));
    expect(facts).toEqual([['mtuBytes', 'rxCrcErrors']]);
  });

  it('needs no night', () => {
    expect(portCourses({ ...pastOf([]), nights: [] }, () => 1)).toEqual([]);
    expect(auditAt(20).startedAt).toBe(day(20));
  });
});
