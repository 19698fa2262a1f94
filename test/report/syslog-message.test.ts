import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LogEntry } from '../../src/report/log-entries.ts';
import { cutToOctets, syslogMessage, syslogOctetsMax } from '../../src/report/syslog-message.ts';
import { readMessage } from './syslog-text.ts';

const head = { facility: 16, at: '2026-11-25T02:00:09.000Z', host: 'vault', processId: 4711 };
const entry: LogEntry = {
  kind: 'new',
  severity: 'error',
  params: [
    ['id', 'a1b2c3d4e5'],
    ['subject', 'quay-sw:Port "4" \\ [x]'],
  ],
  text: 'new: plotting: carries at most 1500 bytes – the Wändle',
};

describe('a message of RFC 5424', () => {
  it('is this one, octet for octet', () => {
    expect(syslogMessage(entry, head)).toBe(
      '<131>1 2026-11-25T02:00:09.000Z vault hopgauge 4711 new [finding@32473 id="a1b2c3d4e5" subject="quay-sw:Port \\"4\\" \\\\ [x\\]"] \ufeffnew: plotting: carries at most 1500 bytes – the Wändle',
    );
  });

  it('is read back by the grammar as what was meant', () => {
    const read = readMessage(syslogMessage(entry, head));
    expect(read.data).toEqual({ 'finding@32473': Object.fromEntries(entry.params) });
    expect(read.text).toBe(`\ufeff${entry.text}`);
  });

  // RFC 5424 section 6.2.1, Tables 1 and 2, and the <165> of section 6.5, example 3: local4, notice.
  const priorities = [
    ['local4 notice, as in the RFC', 20, 'notice', 165],
    ['local0 error', 16, 'error', 131],
    ['local0 warning', 16, 'warning', 132],
    ['local0 informational', 16, 'informational', 134],
    ['local7 notice', 23, 'notice', 189],
  ] as const;
  for (const [name, facility, severity, priority] of priorities) {
    it(`${priority}: ${name}`, () => {
      const wire = syslogMessage({ ...entry, severity }, { ...head, facility });
      expect(readMessage(wire).priority).toBe(priority);
    });
  }

  it('has a dash for what there is none of', () => {
    const wire = syslogMessage({ ...entry, params: [] }, { ...head, host: 'ü' });
    expect(wire).toContain(' - hopgauge 4711 new - \ufeff');
  });

  it('holds to the grammar and to its size whatever stands in it', () => {
    const text = fc.string({ unit: 'binary', maxLength: 4000 });
    fc.assert(
      fc.property(text, text, text, (host, value, words) => {
        const wire = syslogMessage(
          { ...entry, params: [['subject', value]], text: words },
          { ...head, host },
        );
        expect(Buffer.byteLength(wire)).toBeLessThanOrEqual(syslogOctetsMax);
        expect(Object.keys(readMessage(wire).data)).toEqual(['finding@32473']);
      }),
      { numRuns: 200 },
    );
  });

  it('is cut between characters', () => {
    expect(cutToOctets('aü', 2)).toBe('a');
    expect(cutToOctets('aü', 3)).toBe('aü');
    expect(cutToOctets('😀😀', 7)).toBe('😀');
  });
});
