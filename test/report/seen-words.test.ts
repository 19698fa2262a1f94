import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/judge/types.ts';
import { seenWords } from '../../src/report/seen-words.ts';
import { doubtful, middleSmall } from './saltmarsh.ts';

function finding(more: Partial<Finding>): Finding {
  const [base] = middleSmall.judgement.findings;
  if (base === undefined) throw new Error('no finding to copy');
  const { declaredAt: _at, ...rest } = base;
  return { ...rest, evidence: [], ...more };
}
const place = { file: 'hopgauge.yaml', line: 24, column: 5 };
const hostKeySign =
  'another host key at 198.18.20.12: it shows one that ~/.ssh/known_hosts line 2 does not record';
const link = { kind: 'link', id: 'a:1 - b:1' } as const;

describe('what was seen', () => {
  const rows: readonly (readonly [string, Finding, string])[] = [
    [
      'a reading with its source, against what is declared',
      finding({
        subject: { kind: 'port', id: 'plot-1:desk' },
        evidence: [
          { fact: 'port.speedMbps', value: 1000, unit: 'Mb/s', source: 'ifconfig media' },
          { fact: 'port.declaredSpeedMbps', value: 10_000, unit: 'Mb/s', source: 'intent' },
        ],
        declaredAt: place,
      }),
      'speed 1000 Mb/s (ifconfig media); declared speed 10000 Mb/s (hopgauge.yaml:24)',
    ],
    [
      'a value that could not be read, with the words of the node',
      finding({
        subject: link,
        evidence: [{ fact: 'port.duplex', gap: { reason: 'denied', words: 'not permitted' } }],
      }),
      'duplex not known: not permitted',
    ],
    [
      'our words where the node said none',
      finding({
        subject: link,
        evidence: [{ fact: 'port.duplex', gap: { reason: 'denied', words: '' } }],
      }),
      'duplex not known: the node would not tell',
    ],
    [
      'what was derived where nothing was read',
      finding({
        subject: link,
        evidence: [
          {
            fact: 'link.speedsMbps',
            value: [1000, 10_000],
            unit: 'Mb/s',
            source: 'port.speedMbps',
          },
          { fact: 'link.speedsEqual', value: false },
        ],
        declaredAt: place,
      }),
      'speeds 1000, 10000 Mb/s; speeds equal: no; declared at hopgauge.yaml:24',
    ],
    [
      'the raw number behind a port that is too small',
      finding({
        subject: { kind: 'port', id: 'quay-sw:xg3' },
        evidence: [{ fact: 'port.carriesDeclaredMtu', value: false }],
      }),
      'quay-sw:xg3 MTU 1500 bytes (IF-MIB ifMtu), counted as header-fcs',
    ],
    [
      'an empty list as none',
      finding({ subject: link, evidence: [{ fact: 'node.contradictions', value: [] }] }),
      'contradictions none',
    ],
    [
      'a long text of the node once, where the title has it already',
      finding({
        subject: link,
        what: `another machine seems to answer at its address: ${hostKeySign}`,
        evidence: [{ fact: 'node.contradictions', value: [hostKeySign] }],
        declaredAt: place,
      }),
      'declared at hopgauge.yaml:24',
    ],
  ];
  for (const [name, given, words] of rows) {
    it(name, () => expect(seenWords(given, middleSmall.site, false)).toBe(words));
  }

  it('says where nobody has said what a switch counts', () => {
    const given = finding({
      subject: { kind: 'port', id: 'quay-sw:xg2' },
      evidence: [{ fact: 'port.passesAtMostBytes', value: 9000 }],
    });
    expect(seenWords(given, doubtful.site, false)).toBe(
      'quay-sw:xg2 MTU 9000 bytes (IF-MIB ifMtu), what it counts not declared',
    );
  });

  it('names four facts, and all with --verbose', () => {
    const names = ['rxErrors', 'txErrors', 'rxDropped', 'txDropped', 'rxCrcErrors'];
    const given = finding({
      subject: link,
      evidence: names.map((name) => ({ fact: `port.${name}`, value: 1, unit: 'frames' })),
    });
    expect(seenWords(given, middleSmall.site, false)).toMatch(/; and 1 more facts$/);
    expect(seenWords(given, middleSmall.site, true)).toMatch(/rx crc errors 1 frames$/);
  });
});
