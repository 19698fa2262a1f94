import { describe, expect, it } from 'vitest';
import { parseJson } from '../../src/facts/json.ts';
import { jsonReport } from '../../src/report/json-report.ts';
import { reportSchema } from '../../src/report/report-schema.ts';
import { expectGolden } from './golden.ts';
import { deadSwitch, middleSmall, samples } from './saltmarsh.ts';
import { whole } from './whole.ts';

describe('the JSON report', () => {
  for (const [name, result] of Object.entries(samples)) {
    it(`has its documented form for ${name}`, () => {
      const text = whole(jsonReport(result));
      const parsed = reportSchema.parse(parseJson(text));
      expect(parsed.paths.length).toBe(result.site.paths.length);
      expect(parsed.findings.length).toBe(result.judgement.findings.length);
    });
  }

  it('is the same bytes for equal results, whatever the order of their keys', () => {
    const turned = Object.fromEntries(Object.entries(middleSmall).reverse()) as typeof middleSmall;
    expect(whole(jsonReport(structuredClone(turned)))).toBe(whole(jsonReport(middleSmall)));
  });

  it('holds the hop, its raw reading and the evidence', () => {
    expectGolden('middleSmall.json', whole(jsonReport(middleSmall)));
  });

  it('keeps why a hop is not known, and the trouble behind it', () => {
    const parsed = reportSchema.parse(parseJson(whole(jsonReport(deadSwitch))));
    const hop = parsed.paths[0]?.hops[1];
    expect(hop).toEqual({
      port: 'quay-sw:xg2',
      node: 'quay-sw',
      position: 'switch',
      distance: 1,
      layer: false,
      gap: { reason: 'unreachable', words: 'no answer', cause: 'node quay-sw' },
      onWord: false,
      narrowest: false,
      slowest: false,
      link: 'plot-1:desk - quay-sw:xg2',
      runToNext: [],
    });
    expect(parsed.nodes.find(({ name }) => name === 'quay-sw')).toMatchObject({
      read: false,
      readings: [{ trouble: { kind: 'no-answer' } }],
    });
    expect(parsed.exitStatus).toBe(2);
  });
});
