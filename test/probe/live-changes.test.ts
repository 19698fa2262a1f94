import { describe, expect, it } from 'vitest';
import type { Gap } from '../../src/facts/gap.ts';
import { freshPort, nextLook, type PortState } from '../../src/probe/live-changes.ts';
import { movedBy, restartedBetween } from '../../src/probe/live-rate.ts';
import type { LiveCount, LiveLook, LiveLooks, PortChange } from '../../src/probe/live-types.ts';
import { changeLine, liveLine } from '../../src/report/live-text.ts';
import type { DeclaredLine } from '../../src/report/live-words.ts';
import { look, looksAt, notTold } from './live-looks.ts';

const declared: DeclaredLine = { speedMbps: 10_000, duplex: 'full', packetBytes: 9000 };

/** Takes looks a second apart, the first at 02:13:00, and gives the lines that are told. */
function linesOf(looks: readonly (LiveLook | Gap)[], intent: DeclaredLine = declared): string[] {
  let state: PortState = freshPort;
  return looks.flatMap((each, at) => {
    const step = nextLook(state, looksAt(at), each);
    state = step.state;
    return step.changes.map((change) => liveLine(changeLine('store:eth1', change, intent)));
  });
}

const up = look({});
const down = look({ up: false });
const slow = look({ speedMbps: 1000 });
const gone: Gap = { reason: 'unsupported', words: 'No such device' };

describe('changes of a port', () => {
  const rows: readonly (readonly [string, readonly (LiveLook | Gap)[], readonly string[]])[] = [
    ['nothing', [up, up, up], []],
    ['a cord pulled', [up, down, down], ['02:13:01 store:eth1 link down']],
    [
      'a cord put in, slower than declared',
      [up, down, slow],
      [
        '02:13:01 store:eth1 link down',
        '02:13:02 store:eth1 link up at 1 Gb/s full; declared 10 Gb/s',
      ],
    ],
    [
      'the far side that can no more',
      [down, look({ speedMbps: 1000, partnerModes: ['100baseT/Full', '1000baseT/Full'] })],
      [
        '02:13:01 store:eth1 link up at 1 Gb/s full; declared 10 Gb/s; the far side offers up to 1 Gb/s',
      ],
    ],
    [
      'a speed that is told only later',
      [down, look({ speedMbps: undefined }), up],
      [
        '02:13:01 store:eth1 link up at a speed that is not told (not in this test) full',
        '02:13:02 store:eth1 now 10 Gb/s full, was a speed that is not told (not in this test) full',
      ],
    ],
    [
      'half duplex',
      [up, look({ duplex: 'half' })],
      ['02:13:01 store:eth1 now 10 Gb/s half, was 10 Gb/s full; declared full'],
    ],
    [
      'switched off',
      [up, look({ up: false, adminUp: false })],
      ['02:13:01 store:eth1 link down: the port is switched off'],
    ],
    [
      'switched off while down',
      [down, look({ up: false, adminUp: false })],
      ['02:13:01 store:eth1 switched off'],
    ],
    [
      'an MTU that the declared packet has no room in',
      [up, look({ mtuBytes: 1500 })],
      ['02:13:01 store:eth1 MTU 1500, was 9000; declared packet 9000 bytes'],
    ],
    [
      'a link that came back unseen, counted by the host',
      [look({ carrierChanges: 4 }), look({ carrierChanges: 6 })],
      ['02:13:01 store:eth1 the link went down and came back between two looks'],
    ],
    [
      'three times',
      [look({ carrierChanges: 4 }), look({ carrierChanges: 10 })],
      ['02:13:01 store:eth1 the link went down and came back 3 times between two looks'],
    ],
    [
      'one change that was seen is no other',
      [look({ carrierChanges: 4 }), look({ up: false, carrierChanges: 5 })],
      ['02:13:01 store:eth1 link down'],
    ],
    [
      'a link that came back unseen, by ifLastChange (RFC 2863)',
      [look({ changedAtSeconds: 40 }), look({ changedAtSeconds: 71 })],
      ['02:13:01 store:eth1 the link went down and came back, once or more, between two looks'],
    ],
    [
      'ifLastChange of an agent that started anew',
      [look({ changedAtSeconds: 40 }), look({ changedAtSeconds: 0 })],
      [],
    ],
    [
      'a link that is not told any more, and then again',
      [up, look({ up: undefined }), look({ up: undefined }), up],
      ['02:13:01 store:eth1 it does not tell any more whether there is a link (not in this test)'],
    ],
    [
      'an adapter taken out and put back',
      [up, gone, gone, slow],
      [
        '02:13:01 store:eth1 the port is gone: No such device',
        '02:13:03 store:eth1 the port is there again: link up at 1 Gb/s full; declared 10 Gb/s',
      ],
    ],
    [
      'frames with errors, told once, and when they are over',
      [...[0, 120, 240, 240, 240, 240, 240].map((rxErrors) => look({ rxErrors }))],
      [
        '02:13:01 store:eth1 frames with errors: 120 a second',
        '02:13:05 store:eth1 no more frames with errors',
      ],
    ],
    [
      'modes that the far side offers',
      [look({ partnerModes: ['100baseT/Full'] }), look({ partnerModes: ['100baseT/Half'] })],
      ['02:13:01 store:eth1 the far side now offers 100 Mb/s half'],
    ],
  ];
  it.each(rows)('%s', (_, looks, lines) => {
    expect(linesOf(looks).slice(1)).toEqual(lines);
  });

  it('tells first what a port is and what it does not tell', () => {
    expect(linesOf([up])).toEqual([
      "02:13:00 store:eth1 link up at 10 Gb/s full, MTU 9000; the far side's modes not told (not in this test)",
    ]);
    expect(linesOf([gone])).toEqual(['02:13:00 store:eth1 no such port: No such device']);
  });

  it('compares no speed that has no hardware behind it', () => {
    const made: LiveLook = { ...slow, virtual: true };
    expect(linesOf([down, made])[1]).toBe('02:13:01 store:eth1 link up at 1 Gb/s full');
  });

  it('makes no number of what is not known', () => {
    const state = nextLook(
      nextLook(freshPort, looksAt(0), look({ rxErrors: undefined })).state,
      looksAt(1),
      look({ rxErrors: undefined }),
    ).state;
    expect(state.rates?.rxErrors).toEqual(notTold);
    expect(state.errors).toBe(0);
  });
});

describe('a link that comes and goes', () => {
  const looks = (n: number) => Array.from({ length: n }, (_, i) => (i % 2 === 0 ? up : down));

  it('is told change by change, then counted, then told where it stands', () => {
    const lines = linesOf([...looks(20), ...Array(6).fill(up)]).slice(1);
    expect(lines).toEqual([
      ...[1, 2, 3, 4, 5, 6].map((s) =>
        s % 2 === 1
          ? `02:13:0${s} store:eth1 link down`
          : `02:13:0${s} store:eth1 link up at 10 Gb/s full`,
      ),
      '02:13:07 store:eth1 the link comes and goes: 7 changes in 6 s; only counted while that lasts',
      '02:13:17 store:eth1 the link comes and goes: 17 changes in 16 s; only counted while that lasts',
      '02:13:25 store:eth1 settled after 20 changes in 24 s: link up at 10 Gb/s full',
    ]);
  });

  it('folds many changes of one second at once', () => {
    const lines = linesOf([look({ carrierChanges: 0 }), look({ carrierChanges: 5000 })]).slice(1);
    expect(lines).toEqual([
      '02:13:01 store:eth1 the link comes and goes: 5000 changes in 1 s; only counted while that lasts',
    ]);
  });

  it('never tells more than a few lines for any number of changes', () => {
    const told: PortChange[] = [];
    let state = freshPort;
    for (let at = 0; at < 600; at += 1) {
      const step = nextLook(state, looksAt(at), at % 2 === 0 ? up : down);
      state = step.state;
      told.push(...step.changes);
    }
    expect(told.length).toBeLessThan(80);
    expect(state.linkChanges).toBe(599);
  });
});

describe('movedBy', () => {
  const known = (n: bigint, bits: 32 | 64): { value: LiveCount } => ({ value: { count: n, bits } });
  // RFC 2578 7.1.6 and 7.1.10: a counter that has reached 2^32-1 or 2^64-1 starts again from zero.
  const rows = [
    ['up', known(5n, 32), known(9n, 32), 4],
    ['over the end of 32 bits', known(2n ** 32n - 1n, 32), known(2n, 32), 3],
    ['over the end of 64 bits', known(2n ** 64n - 2n, 64), known(1n, 64), 3],
    ['beyond what a double holds', known(2n ** 60n, 64), known(2n ** 60n + 1n, 64), 1],
    ['not at all', known(7n, 64), known(7n, 64), 0],
  ] as const;
  it.each(rows)('%s', (_, before, now, by) => {
    expect(movedBy(before, now, { seconds: 2 })).toEqual({ value: { by, seconds: 2 } });
  });

  it.each([32, 64] as const)('is not known where a counter of %i bits was set back', (bits) => {
    expect(movedBy(known(5000n, bits), known(3n, bits), { seconds: 1 })).toEqual({
      gap: { reason: 'doubtful', words: 'the counter went back' },
    });
  });

  it('is not known over a discontinuity (RFC 2863 ifCounterDiscontinuityTime)', () => {
    const step = (discontinuity: number, at: number, rxErrors: number, state: PortState) =>
      nextLook(state, looksAt(at), look({ discontinuity, rxErrors })).state;
    const same = step(10, 1, 7, step(10, 0, 5, freshPort));
    expect(same.rates?.rxErrors).toEqual({ value: { by: 2, seconds: 1 } });
    const anew = step(99, 1, 7, step(10, 0, 5, freshPort));
    expect(anew.rates?.rxErrors.gap?.words).toBe('the node started the counters of the port anew');
    expect(anew.errors).toBe(0);
  });
});

describe('restartedBetween', () => {
  const at = (second: number, upSeconds: number): LiveLooks => ({
    ...looksAt(second),
    upSeconds: { value: upSeconds },
  });
  // RFC 3418 sysUpTime: TimeTicks, hundredths of a second modulo 2^32 (RFC 2578 7.1.8).
  const wrap = 2 ** 32 / 100;
  it.each([
    ['runs on', at(0, 500), at(1, 501), false],
    ['started anew', at(0, 500), at(1, 3), true],
    ['came to the end of its ticks', at(0, wrap - 0.5), at(1, 0.5), false],
    ['started anew just before that', at(0, wrap - 400_000), at(1, 0.5), true],
  ] as const)('%s', (_, before, now, answer) => {
    expect(restartedBetween(before, now)).toBe(answer);
  });
});
