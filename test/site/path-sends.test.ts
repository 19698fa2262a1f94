import { describe, expect, it } from 'vitest';
import { gapOf } from '../../src/facts/subject.ts';
import { subjectIn } from './builders.ts';
import { type PlottingSketch, plottingSite } from './plotting-site.ts';

function sendsOf(sketch: PlottingSketch) {
  const subject = subjectIn(plottingSite({ mtuBytes: 1500, ...sketch }), 'paths', 'plotting');
  const { passesWhatIsSent, sentBytes, stallsAt, stallsAboveBytes } = subject.facts;
  return {
    passesWhatIsSent,
    sentBytes,
    stallsAt,
    stallsAboveBytes,
    gap: gapOf(subject, 'passesWhatIsSent')?.cause,
  };
}

const none = { sentBytes: undefined, stallsAt: undefined, stallsAboveBytes: undefined };
const small = { xg2: { mtuBytes: 1500 }, xg3: { mtuBytes: 1500 } };
const counts = { nodes: { 'quay-sw': { mtuCounts: { port: 'payload' } } } } as const;

// TCP takes the smaller of what both ends announce by their own interfaces (RFC 9293 3.7.1).
describe('what both ends send', () => {
  it('stalls at a switch that is as small as declared while both are larger', () => {
    expect(sendsOf({ ...small, ...counts })).toEqual({
      passesWhatIsSent: false,
      sentBytes: 9000,
      stallsAt: 'quay-sw:xg2',
      stallsAboveBytes: 1500,
      gap: undefined,
    });
  });

  it('passes where one end is as small, since TCP agrees on that', () => {
    const sketch = { ...small, ...counts, eth4: { mtuBytes: 1500 } };
    expect(sendsOf(sketch)).toEqual({ passesWhatIsSent: true, ...none, gap: undefined });
  });

  it('passes a switch that is larger than both', () => {
    expect(sendsOf({})).toEqual({ passesWhatIsSent: true, ...none, gap: undefined });
  });

  it('is not known where what the switch counts is not', () => {
    // 9216 on a switch passes 9194 to 9216 bytes of IP, by what it counts.
    const sketch = { desk: { mtuBytes: 9210 }, eth4: { mtuBytes: 9210 } };
    expect(sendsOf(sketch)).toEqual({
      passesWhatIsSent: undefined,
      ...none,
      gap: 'mtu quay-sw:xg2',
    });
  });

  it('is no question where the declared packet does not pass', () => {
    const sketch = { ...small, ...counts, mtuBytes: 9000 };
    expect(sendsOf(sketch)).toEqual({ passesWhatIsSent: undefined, ...none, gap: undefined });
  });
});
