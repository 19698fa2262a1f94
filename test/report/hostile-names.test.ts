import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { Lexer } from 'marked';
import { describe, expect, it } from 'vitest';
import { parseJson } from '../../src/facts/json.ts';
import { csvReport } from '../../src/report/csv-report.ts';
import { jsonlReport } from '../../src/report/jsonl-report.ts';
import { junitReport } from '../../src/report/junit-report.ts';
import { markdownReport } from '../../src/report/markdown-report.ts';
import { openmetricsReport } from '../../src/report/openmetrics-report.ts';
import { sarifReport } from '../../src/report/sarif-report.ts';
import { junitSchema, xmlFaults } from './junit-check.ts';
import { kindsOf, plain } from './markdown-check.ts';
import { readOpenmetrics } from './openmetrics-reader.ts';
import { isSarif } from './sarif-check.ts';
import { sayingEverywhere } from './saying-everywhere.ts';
import { sinceLastNight } from './since-last-night.ts';
import { whole } from './whole.ts';

describe('hostile names', () => {
  const names = [
    'a]]>b<!--<x/>&lt;"\'',
    '=cmd|1|a\r\n+1,"x',
    '"} 1\n# EOF\nforged{a="',
    '| x | <img src=x onerror=alert(1)> [a](b) `c`\n# d',
    '\u0000\u001b[2J\ud800\ufffe\uffff\u2028',
    '{"a":1}\n{"b":2}',
    '',
  ];
  const check = (text: string) => {
    const result = sayingEverywhere(text);
    isSarif(parseJson(whole(sarifReport(result))));
    expect(isSarif.errors).toBe(null);
    expect(readOpenmetrics(whole(openmetricsReport(result))).length).toBeGreaterThan(10);
    const odd = kindsOf(new Lexer().lex(markdownReport(result))).filter((kind) => !plain.has(kind));
    expect(odd).toEqual([]);
    const rows: string[][] = parse(whole(csvReport(result)));
    expect(rows.flat().filter((cell) => /^[=+\-@\t\r]/.test(cell))).toEqual([]);
    const lines = whole(jsonlReport(result)).trimEnd().split('\n');
    expect(lines.length).toBe(whole(jsonlReport(sinceLastNight)).trimEnd().split('\n').length);
    for (const line of lines) expect(parseJson(line)).toMatchObject({ site: text });
  };
  for (const name of names) {
    it(`as ${JSON.stringify(name)} break no form`, () => check(name));
  }

  it('of any kind break no form', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary' }), check), { numRuns: 20 });
  });

  it('leave the XML valid', async () => {
    const texts = [...names, ...fc.sample(fc.string({ unit: 'binary' }), 30)];
    const documents = texts.map((text) => whole(junitReport(sayingEverywhere(text))));
    expect(await xmlFaults(documents, junitSchema)).toEqual([]);
  });
});
