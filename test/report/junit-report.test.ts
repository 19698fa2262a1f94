import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { junitReport } from '../../src/report/junit-report.ts';
import { xmlAttribute, xmlText } from '../../src/report/xml.ts';
import { allSites } from './all-sites.ts';
import { anySchema, junitSchema, xmlFaults } from './junit-check.ts';
import { sinceLastNight } from './since-last-night.ts';
import { whole } from './whole.ts';

describe('JUnit XML', () => {
  it('is valid by a schema in common use for every site', async () => {
    expect(
      await xmlFaults(
        Object.values(allSites).map((result) => whole(junitReport(result))),
        junitSchema,
      ),
    ).toEqual([]);
  });

  it('would be refused with a mark that is not escaped, or an element of its own', async () => {
    const text = whole(junitReport(sinceLastNight));
    const wrong = [text.replace('vault:eth4', 'a & b'), text.replace('<failure ', '<fault ')];
    for (const each of wrong) expect(await xmlFaults([each], junitSchema)).not.toEqual([]);
  });

  it('counts met, failures, errors and skipped by policy', () => {
    const suites = [
      ...whole(junitReport(sinceLastNight)).matchAll(/<testsuite name="([^"]*)".*?>/g),
    ];
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
    const text = whole(junitReport({ ...sinceLastNight, least: 'error' }));
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
