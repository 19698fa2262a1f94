import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openmetricsReport } from '../../src/report/openmetrics-report.ts';
import { escapeMetricText } from '../../src/report/openmetrics-text.ts';
import { allSites } from './all-sites.ts';
import { readOpenmetrics } from './openmetrics-reader.ts';
import { samples } from './saltmarsh.ts';
import { sinceLastNight } from './since-last-night.ts';
import { whole } from './whole.ts';

describe('OpenMetrics', () => {
  for (const [name, result] of Object.entries(allSites)) {
    it(`is read by the rules of the standard for ${name}`, () => {
      const families = readOpenmetrics(whole(openmetricsReport(result)));
      expect(families.every((each) => each.name.startsWith('hopgauge_'))).toBe(true);
    });
  }

  const wrong = [
    ['a quote that is not escaped', '# TYPE a gauge\na{b="x"y"} 1\n# EOF\n'],
    ['no end mark', '# TYPE a gauge\na 1\n'],
    ['a unit that does not end the name', '# TYPE a gauge\n# UNIT a seconds\na 1\n# EOF\n'],
    ['a label set twice', '# TYPE a gauge\na{b="x"} 1\na{b="x"} 2\n# EOF\n'],
    ['a counter without its ending', '# TYPE a counter\na 1\n# EOF\n'],
    ['a family twice', '# TYPE a gauge\na 1\n# TYPE a gauge\na{b="x"} 1\n# EOF\n'],
    ['a number that is none', '# TYPE a gauge\na one\n# EOF\n'],
  ] as const;
  for (const [name, text] of wrong) {
    it(`would be refused with ${name}`, () => expect(() => readOpenmetrics(text)).toThrow());
  }

  const families = readOpenmetrics(whole(openmetricsReport(sinceLastNight)));
  const values = (name: string) =>
    families
      .find((each) => each.name === name)
      ?.samples.map(({ labels: { site: _, ...labels }, value }) => [
        ...Object.values(labels),
        value,
      ]);

  it('has the clearance of paths, and the facts of ports', () => {
    expect(values('hopgauge_path_mtu_at_most_bytes')).toEqual([['plotting', 1500]]);
    expect(values('hopgauge_path_carries_declared_mtu')).toEqual([['plotting', 0]]);
    expect(values('hopgauge_port_mtu_bytes')).toEqual([
      ['plot-1', 'plot-1:desk', 9000],
      ['quay-sw', 'quay-sw:xg2', 9216],
      ['quay-sw', 'quay-sw:xg3', 1500],
      ['vault', 'vault:eth4', 9000],
    ]);
  });

  it('has every count, those of nothing too, and the time of the last complete audit', () => {
    expect(values('hopgauge_findings')?.length).toBe(9);
    expect(values('hopgauge_findings')).toContainEqual(['notice', 'broken', 0]);
    expect(values('hopgauge_findings')).toContainEqual(['error', 'broken', 2]);
    expect(values('hopgauge_complete_audit_end_time_seconds')).toEqual([[1_795_572_002.2]]);
  });

  it('has no sample for what is not known', () => {
    const dead = readOpenmetrics(whole(openmetricsReport(samples.deadSwitch)));
    expect(dead.map(({ name }) => name)).not.toContain('hopgauge_path_carries_declared_mtu');
    expect(dead.map(({ name }) => name)).not.toContain('hopgauge_complete_audit_end_time_seconds');
  });

  it('gives every label back as it was', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        const line = `# TYPE a gauge\na{b="${escapeMetricText(text.replace(/[\r\ufeff]/g, ''))}"} 1\n# EOF\n`;
        const [family] = readOpenmetrics(line);
        expect(family?.samples[0]?.labels['b']).toBe(text.replace(/[\r\ufeff]/g, ''));
      }),
    );
  });
});
