import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvCell, csvReport } from '../../src/report/csv-report.ts';
import { allSites } from './all-sites.ts';
import { whole } from './whole.ts';

describe('CSV', () => {
  for (const [name, result] of Object.entries(allSites)) {
    it(`is read by a CSV parser for ${name}, one record for each port`, () => {
      const [header, ...rows]: string[][] = parse(whole(csvReport(result)), { bom: false });
      const ports = new Set(result.site.ports.map(({ id }) => id));
      expect(new Set(rows.map(([port]) => port))).toEqual(ports);
      expect(rows.every((row) => row.length === header?.length)).toBe(true);
    });
  }

  const cells = [
    ['a formula', '=1+1', "'=1+1"],
    ['plus', '+1', "'+1"],
    ['minus', '-x', "'-x"],
    ['at', '@SUM(1)', "'@SUM(1)"],
    ['tab', '\t=1', "'=1"],
    ['carriage return', '\r=1', "'=1"],
    ['a quoted formula', '=HYPERLINK("a","b")', '"\'=HYPERLINK(""a"",""b"")"'],
    ['a negative number', -3.5, '-3.5'],
    ['a flag', true, 'true'],
    ['a list', ['a', 'b,c'], '"a; b,c"'],
    ['nothing', undefined, ''],
  ] as const;
  for (const [name, value, expected] of cells) {
    it(`writes ${name}`, () => expect(csvCell(value)).toBe(expected));
  }

  it('keeps any text in one cell that is no formula', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const [row]: string[][] = parse(`${csvCell(text)},end\r\n`);
        expect(row?.length).toBe(2);
        expect(row?.[0]).not.toMatch(/^[=+\-@\t\r]/);
      }),
    );
  });
});
