import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import { textReport } from '../../src/report/text-report.ts';
import { expectGolden } from './golden.ts';
import { healthy, middleSmall, samples } from './saltmarsh.ts';
import { hop, path, sample } from './samples.ts';

const plain = { width: 80, colour: false, verbose: false };
const esc = String.fromCharCode(27);
const colourCodes = new RegExp(`${esc}\\[\\d+m`, 'g');

describe('the text report', () => {
  for (const [name, result] of Object.entries(samples)) {
    for (const width of [40, 80, 120]) {
      it(`says ${name} in ${width} columns`, () => {
        expectGolden(`${name}-${width}.txt`, textReport(result, { ...plain, width }));
      });
    }

    it(`keeps ${name} inside its columns, down to the least and up to the most`, () => {
      for (const width of [1, 40, 41, 63, 64, 80, 200]) {
        const lines = textReport(result, { ...plain, width }).split('\n');
        const most = Math.min(120, Math.max(40, width));
        expect(Math.max(...lines.map((line) => stringWidth(line)))).toBeLessThanOrEqual(most);
        expect(lines.filter((line) => line.trimEnd() !== line)).toEqual([]);
      }
    });

    it(`says ${name} in colour with the same characters`, () => {
      const coloured = textReport(result, { ...plain, colour: true });
      expect(coloured).not.toBe(textReport(result, plain));
      expect(coloured.replace(colourCodes, '')).toBe(textReport(result, plain));
    });
  }

  it('writes everything with --verbose', () => {
    expectGolden('middleSmall-verbose.txt', textReport(middleSmall, { ...plain, verbose: true }));
  });

  it('is short when nothing is wrong: the path, its verdict and one line', () => {
    const lines = textReport(healthy, plain).trimEnd().split('\n');
    expect(lines.length).toBe(11);
    expect(lines.at(-1)).toBe(
      '20 judged: 20 met, 0 broken, 0 undetermined; 3 nodes read 2026-11-25 02:00 UTC',
    );
  });

  it('draws only paths with something to see once there are many', () => {
    const paths = Array.from({ length: 9 }, (_, i) =>
      path(`way-${i}`, [hop({ port: `a${i}:p`, least: 9000, most: 9000, distance: 0 })], {
        carriesDeclaredMtu: true,
      }),
    );
    const finding = {
      ...middleSmall.judgement.findings[0],
      subject: { kind: 'port', id: 'a4:p' },
    } as (typeof middleSmall.judgement.findings)[number];
    const text = textReport(sample({ nodes: [], paths, findings: [finding] }), plain);
    expect(text).toContain('way-4: a4 to a4');
    expect(text).not.toContain('way-5:');
    expect(text).toContain('8 more paths with nothing to see');
  });

  it('names faults of rules and waivers to remove', () => {
    const place = { file: 'own.yaml', line: 7, column: 3 };
    const text = textReport(
      sample({
        nodes: [],
        paths: [],
        judgement: {
          faults: [{ policy: 'own', rule: 'odd', subject: 'vault', what: 'division by 0', place }],
          waiversExpired: [{ file: 'hopgauge.yaml', line: 44, column: 5 }],
        },
      }),
      plain,
    );
    expect(text).toContain('own.yaml:7: rule odd failed on vault: division by 0\n');
    expect(text.replace(/\n +/g, ' ')).toContain(
      'hopgauge.yaml:44: this waiver matches no rule and subject; remove it\n',
    );
  });

  it('lets no control character of a file or a device reach the terminal', () => {
    const evil = `v${esc}]0;owned${String.fromCharCode(7)}\u202egnp\r\n${esc}[2Jx\u009b31m`;
    const finding = {
      ...middleSmall.judgement.findings[0],
      what: evil,
      advice: evil,
      cause: evil,
      subject: { kind: 'port', id: evil },
      evidence: [
        { fact: 'port.duplex', value: evil, source: evil },
        { fact: evil, gap: { reason: 'denied', words: evil } },
      ],
    } as unknown as (typeof middleSmall.judgement.findings)[number];
    const text = textReport(
      sample({
        nodes: [{ name: evil, trouble: { seen: evil, remedy: evil } }],
        paths: [
          path(evil, [hop({ port: evil, gap: { reason: 'denied', words: evil }, distance: 0 })], {
            narrowestPort: evil,
            effects: evil,
          }),
        ],
        findings: [finding, { ...finding, verdict: 'undetermined', cause: 'other' }],
      }),
      { ...plain, verbose: true },
    );
    // biome-ignore format: one class
    expect(text.replaceAll('\n', '')).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/);
    expect(text).toContain('gnp');
  });
});
