import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Document, isScalar, parseDocument, Scalar } from 'yaml';
import { sourceOffset } from '../../src/judge/source-offset.ts';

interface Written {
  readonly source: string;
  readonly start: number;
  readonly value: string;
}

function read(source: string): Written {
  const node = parseDocument(source).get('holds', true);
  if (!isScalar(node) || !node.range) throw new Error(`no scalar in ${source}`);
  return { source, start: node.range[0], value: String(node.value) };
}

const rows: readonly (readonly [name: string, source: string])[] = [
  ['plain', 'holds: port.operUp && port.X > 1\n'],
  ['plain over lines', 'a: 1\nholds: port.operUp\n  && port.X\n\n  > 1\n'],
  ['single quotes', "holds: 'port.id == ''a'' && port.X'\n"],
  ['single quotes over lines', "holds: 'it''s   \n\n   two' \n"],
  ['double quotes', 'holds: "port.id == \\"a\\" && port.X"\n'],
  ['double quotes with escapes', 'holds: "\\u0041\\x41\\U0001F600\\tport.X \\\\ b"\n'],
  ['double quotes over lines', 'holds: "port.operUp\n   && \\\n   port.X\n\n  more"\n'],
  ['literal', 'holds: |\n   port.operUp &&\n\n     port.X\n   > 1\n'],
  ['literal with an empty head', 'holds: |-\n\n    port.operUp &&\n    port.X\n'],
  ['folded', 'a: 1\nholds: >-\n  port.operUp\n  && port.X\n\n  > 1\n'],
  ['folded with deeper lines', 'holds: >\n  a\n    b\n  c\n\n\n  port.X\n'],
  ['with an anchor', 'holds: &here port.X\n'],
  ['carriage returns', 'holds: >-\r\n  port.operUp\r\n  && port.X\r\n'],
];

describe('sourceOffset', () => {
  it.each(rows)('finds every visible character of a text: %s', (_name, source) => {
    const written = read(source);
    const found = [...written.value].flatMap((character, index) => {
      const at = sourceOffset(written, [...written.value].slice(0, index).join('').length);
      const isEscape = source.charAt(at) === '\\';
      return /\s/.test(character) || isEscape || source.startsWith(character, at)
        ? []
        : [{ index, at }];
    });
    expect(found).toEqual([]);
    const misspelt = written.value.indexOf('X');
    if (misspelt >= 0) expect(sourceOffset(written, misspelt)).toBe(source.indexOf('X'));
  });

  const styles = [
    'PLAIN',
    'QUOTE_SINGLE',
    'QUOTE_DOUBLE',
    'BLOCK_LITERAL',
    'BLOCK_FOLDED',
  ] as const;
  const word = fc.constantFrom('port.X', '&&', '"q"', "'s'", 'é', '\\', '0.5', '>', '(a)');
  const gap = fc.constantFrom(' ', ' ', ' ', '\n', '\n\n', '  ');
  const text = fc
    .array(fc.tuple(word, gap), { minLength: 1, maxLength: 12 })
    .map((parts) => parts.flat().join('').trim());

  it('agrees with the YAML library on texts that it writes in every style', () => {
    let checked = 0;
    fc.assert(
      fc.property(
        text,
        fc.constantFrom(...styles),
        fc.integer({ min: 20, max: 80 }),
        (value, type, width) => {
          const scalar = new Scalar(value);
          scalar.type = type;
          const source = new Document({ holds: scalar }).toString({
            lineWidth: width,
            minContentWidth: 10,
          });
          const written = read(source);
          expect(written.value.trimEnd()).toBe(value);
          for (let at = 0; at < value.length; at += 1) {
            const character = value.charAt(at);
            if (/[\s\\"']/.test(character)) continue;
            checked += 1;
            expect(source.charAt(sourceOffset(written, at))).toBe(character);
          }
        },
      ),
      { numRuns: 1500 },
    );
    expect(checked).toBeGreaterThan(10_000);
  });
});
