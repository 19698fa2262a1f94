import fc from 'fast-check';
import { Lexer, type Tokens } from 'marked';
import { describe, expect, it } from 'vitest';
import { markdownReport } from '../../src/report/markdown-report.ts';
import { markdownText } from '../../src/report/markdown-text.ts';
import { allSites } from './all-sites.ts';
import { kindsOf, plain } from './markdown-check.ts';

describe('Markdown', () => {
  it('has nothing but headings, tables, lists and text for a parser of its extensions too', () => {
    for (const result of Object.values(allSites)) {
      const odd = kindsOf(new Lexer().lex(markdownReport(result))).filter(
        (kind) => !plain.has(kind),
      );
      expect(odd).toEqual([]);
    }
  });

  const hostile = [
    '<img src=x onerror=alert(1)>',
    '| a | b |',
    '[a](https://host.example)',
    '![a](b)',
    'https://host.example www.host.example',
    '`code` **bold** ~~gone~~ _a_',
    '&lt;script&gt;',
    '# heading',
    'a\n\n# heading',
    '\\| \\',
  ];
  for (const text of hostile) {
    it(`takes ${JSON.stringify(text)} for text`, () => {
      const table = `| a | b |\n| --- | --- |\n| ${markdownText(text)} | end |\n`;
      const [token, ...others] = new Lexer().lex(table);
      expect(others).toEqual([]);
      expect(token?.type).toBe('table');
      const row = (token as Tokens.Table).rows[0] ?? [];
      expect(row.length).toBe(2);
      expect(
        kindsOf(row.flatMap((cell) => cell.tokens)).filter((kind) => !plain.has(kind)),
      ).toEqual([]);
      expect(row[1]?.text).toBe('end');
    });
  }

  it('takes any text for text', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom(...'\\`*_{}[]<>#|~&!@$^:/w.\n\r ()a1-+="\'') }),
        (text) => {
          const [token] = new Lexer().lex(
            `| a | b |\n| --- | --- |\n| x${markdownText(text)} | end |\n`,
          );
          const row = (token as Tokens.Table).rows[0] ?? [];
          expect(
            kindsOf(row.flatMap((cell) => cell.tokens)).filter((kind) => !plain.has(kind)),
          ).toEqual([]);
          expect(row[1]?.text).toBe('end');
        },
      ),
    );
  });
});
