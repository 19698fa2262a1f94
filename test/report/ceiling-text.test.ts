import { describe, expect, it } from 'vitest';
import { explainFigure } from '../../src/diagnose/explain-figure.ts';
import { parseFigure } from '../../src/diagnose/measured-figure.ts';
import { ceilingOf } from '../../src/ethernet/ceiling.ts';
import { usualStack } from '../../src/ethernet/goodput.ts';
import { type CeilingResult, ceilingText } from '../../src/report/ceiling-text.ts';
import { columnsOf } from '../../src/report/layout.ts';

const given = { rateMbps: 10_000, packetBytes: 9000, rttMs: 0.2, stack: usualStack };

function resultOf(text: string, more: Partial<CeilingResult> = {}): CeilingResult {
  const figure = parseFigure(text);
  if (figure === undefined) throw new Error(`no figure ${text}`);
  const diagnosis = explainFigure(figure, given);
  const ceiling = ceilingOf(given);
  return { ceiling, rttMs: 0.2, measured: { text, figure, given, diagnosis }, places: [], ...more };
}

const look = { width: 100, colour: false };

describe('the text of a ceiling', () => {
  const figures = ['9.90G', '9.41G', '941M', '320M', '6.8G', '2.6G', '3.9G', '12G'];
  it.each(figures)('keeps to the width, whatever explains %s', (text) => {
    for (const width of [20, 40, 80, 120, 500]) {
      const lines = ceilingText(resultOf(text), { width, colour: false }).split('\n');
      const widest = Math.max(...lines.map(columnsOf));
      expect(widest).toBeLessThanOrEqual(Math.min(120, Math.max(40, width)));
      expect(lines.join(' ')).not.toMatch(/undefined|NaN|Infinity/);
    }
  });

  it('says how much of the window is under way', () => {
    expect(ceilingText(resultOf('9.41G'), look)).toContain(
      'under way    9410 Mb/s x 0.2 ms / 8 = 235250 bytes',
    );
  });

  it('points at hops, ends and switches apart, and cuts long lists', () => {
    const position = { position: 'to', by: 'packet', value: 1500 } as const;
    const places = [
      {
        path: 'plotting',
        hops: [
          { ...position, port: 'vault:eth4' },
          { ...position, port: 'quay-sw:xg3', position: 'switch' as const },
          {
            port: 'plot-1:desk',
            by: 'rate' as const,
            value: 1000,
            position: 'from' as const,
            link: 'plot-1:desk - quay-sw:xg2',
          },
        ],
        unknown: Array.from({ length: 10 }, (_, at) => `loft-sw:${at + 1}`),
        otherWays: ['vault:eth0'],
      },
    ];
    const text = ceilingText(resultOf('9.41G', { places }), look);
    expect(text.slice(text.indexOf('on the path'))).toBe(`\
on the path plotting
  points at vault:eth4: passes at most 1500 bytes (an end)
  points at quay-sw:xg3: passes at most 1500 bytes (a switch: it would stall large transfers)
  points at plot-1:desk: runs at 1 Gb/s (link plot-1:desk - quay-sw:xg2)
  the traffic leaves by vault:eth0, which the intent does not name
  not known: loft-sw:1, loft-sw:2, loft-sw:3, loft-sw:4, loft-sw:5, loft-sw:6, loft-sw:7, loft-sw:8
  and 2 more
`);
  });

  it('prints no control characters that a name brings along', () => {
    const places = [{ path: 'plot\u001b[31m', hops: [], unknown: ['\u0007a'], otherWays: [] }];
    expect(ceilingText(resultOf('9.41G', { places }), look)).not.toMatch(/[\u001b\u0007]/);
  });

  it('marks the first with colour only where it is asked for', () => {
    expect(ceilingText(resultOf('9.41G'), { width: 80, colour: true })).toContain('\u001b[1mfirst');
    expect(ceilingText(resultOf('9.41G'), look)).not.toContain('\u001b');
  });
});
