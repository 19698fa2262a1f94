import { describe, expect, it } from 'vitest';
import { gapOf } from '../../src/facts/subject.ts';
import { lagSite } from '../diagnose/fault-site.ts';
import { subjectIn } from './builders.ts';
import { type PlottingSketch, plottingSite } from './plotting-site.ts';

function goodputOf(wantedMbps: number | undefined, sketch: PlottingSketch = {}) {
  const ends = { from: ['plot-1'], to: ['vault'], over: ['storage'] };
  const wanted = wantedMbps === undefined ? {} : { goodputMbps: wantedMbps };
  const site = plottingSite({ ...sketch, intent: { paths: { plotting: { ...ends, ...wanted } } } });
  const subject = subjectIn(site, 'paths', 'plotting');
  const { facts } = subject;
  return {
    atMost: facts['goodputAtMostMbps'],
    inReach: facts['goodputInReach'],
    lacks: facts['goodputLacks'],
    gap: gapOf(subject, 'goodputInReach'),
  };
}

// TCP data of a packet, IP and TCP with timestamps 52 bytes, to what a frame takes of the line, 38
// bytes beside the packet (RFC 6349 4.1.1, RFC 7323 3.2, IEEE 802.3 clause 3): 8948/9038 of 10 Gb/s
// are 9900.4, 1448/1538 are 9414.8, and 8948/9038 of 1 Gb/s are 990.0 Mb/s.
describe('the goodput that is wanted of a path', () => {
  const slow = { desk: { speedMbps: 1000 }, xg2: { speedMbps: 1000 } };
  const small = { eth4: { mtuBytes: 1500 } };
  it.each([
    ['is in reach', 9900, {}, 9900, true, undefined],
    ['lacks speed where the packet is as declared', 9901, {}, 9900, false, 'speed'],
    ['lacks speed at a slow link', 991, slow, 990, false, 'speed'],
    ['is in reach of a slow link', 990, slow, 990, true, undefined],
    ['lacks the packet that is declared', 9415, small, 9414, false, 'packet'],
    ['is in reach of small packets', 9414, small, 9414, true, undefined],
    ['lacks speed where the declared packet would not help', 9950, small, 9414, false, 'speed'],
    ['is not judged where none is declared', undefined, slow, 990, undefined, undefined],
  ] as const)('%s: %s Mb/s', (_, wanted, sketch, atMost, inReach, lacks) => {
    expect(goodputOf(wanted, sketch)).toEqual({ atMost, inReach, lacks, gap: undefined });
  });

  it('is not known while a speed is not read', () => {
    const { inReach, gap } = goodputOf(9500, { readings: { vault: { trouble: gone } } });
    expect([inReach, gap?.reason]).toEqual([undefined, 'denied']);
  });

  it('is not known of a link that is down, which has its own finding', () => {
    const down = { operUp: false };
    const { inReach, gap } = goodputOf(9500, { eth4: down, xg3: down });
    expect(inReach).toBeUndefined();
    expect(gap?.cause).toBe('link quay-sw:xg3 - vault:eth4');
  });

  it('is not known where only packets that may pass suffice', () => {
    // A switch that says 9000 without saying what it counts passes 9000 bytes of IP or a few less.
    const { inReach, gap } = goodputOf(9900.3, { xg3: { mtuBytes: 9000 } });
    expect(inReach).toBeUndefined();
    expect(gap?.reason).toBe('doubtful');
  });

  it('is left alone where only several flows over an aggregate can be meant', () => {
    const site = lagSite({ goodputMbps: 18_000, deskMbps: 25_000 });
    const subject = subjectIn(site, 'paths', 'plotting');
    expect(subject.facts['goodputInReach']).toBeUndefined();
    expect(gapOf(subject, 'goodputInReach')).toBeUndefined();
  });
});

const gone = { kind: 'refused', seen: 'no answer', remedy: 'look whether it is on' } as const;
