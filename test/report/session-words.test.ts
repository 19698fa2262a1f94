import { describe, expect, it } from 'vitest';
import type { SessionReading } from '../../src/facts/survey.ts';
import { packetBytes, sessionWords } from '../../src/report/session-words.ts';

const session: SessionReading = {
  local: '198.18.20.7',
  remote: '198.18.20.2',
  count: 1,
  segmentBytes: 1448,
  timestamps: true,
};

describe('the packet of a segment', () => {
  // RFC 6691 section 2: the segment size is the packet less fixed headers, 1460 for 1500 bytes of
  // IPv4 and 1440 of IPv6; RFC 7323 appendix A: timestamps take 12 bytes of every segment.
  const rows = [
    [1460, '198.18.20.2', false, 1500],
    [1448, '198.18.20.2', true, 1500],
    [1440, '2001:db8::2', false, 1500],
    [1428, '2001:db8::2', true, 1500],
    [8948, '198.18.20.2', true, 9000],
    [8960, '198.18.20.2', false, 9000],
  ] as const;
  for (const [segment, remote, timestamps, packet] of rows) {
    it(`${segment} to ${remote}, timestamps ${timestamps}: ${packet}`, () => {
      expect(packetBytes(segment, { ...session, remote, timestamps })).toBe(packet);
    });
  }
});

describe('what a session says', () => {
  const rows: readonly (readonly [string, Partial<SessionReading>, string])[] = [
    [
      'the far end is small',
      { advertisedBytes: 8948, pathMtuBytes: 9000 },
      'sessions with 198.18.20.2 use 1448-byte segments, this end offers 9000: the far end or something on the way is at 1500',
    ],
    [
      'a router has said so',
      { advertisedBytes: 8948, pathMtuBytes: 1500 },
      'sessions with 198.18.20.2 use 1448-byte segments: this end offers 9000 and has learnt that only 1500 bytes pass on the way',
    ],
    [
      'all that this end offers',
      { segmentBytes: 8948, advertisedBytes: 8948, pathMtuBytes: 9000 },
      'sessions with 198.18.20.2 use 8948-byte segments: packets of 9000 bytes, as large as this end offers',
    ],
    [
      'nothing to compare with',
      {},
      'sessions with 198.18.20.2 use 1448-byte segments, packets of 1500 bytes',
    ],
  ];
  for (const [name, more, words] of rows) {
    it(name, () => expect(sessionWords({ ...session, ...more })).toBe(words));
  }
});
