import { describe, expect, it } from 'vitest';
import { dictionary } from '../../src/facts/dictionary.ts';
import { factTypes } from '../../src/facts/entry.ts';

const rows = Object.entries(dictionary).flatMap(([kind, entries]) =>
  Object.entries(entries).map(([name, entry]) => ({ kind, name, entry })),
);

/** Ending of a name for each unit it may be counted in. */
const endings: Readonly<Record<string, RegExp>> = {
  bytes: /Bytes$/,
  'Mb/s': /Mbps$/,
  s: /Seconds$/,
};

describe('the dictionary', () => {
  it('has facts for every kind of subject', () => {
    for (const entries of Object.values(dictionary)) expect(Object.keys(entries)).not.toEqual([]);
  });

  it.each(rows)('$kind fact $name is complete', ({ name, entry }) => {
    expect(name).toMatch(/^[a-z][A-Za-z0-9]*$/);
    expect(factTypes).toContain(entry.type);
    expect(entry.meaning.length).toBeGreaterThan(12);
    expect(entry.sources.length).toBeGreaterThan(0);
    const ending = entry.unit === undefined ? undefined : endings[entry.unit];
    if (ending !== undefined) expect(name).toMatch(ending);
  });

  it('says when each fact that was read or derived of numbers is absent', () => {
    const silent = rows.filter(
      ({ entry }) => entry.unit !== undefined && entry.absentWhen === undefined,
    );
    expect(silent.map(({ kind, name }) => `${kind}.${name}`)).toEqual([]);
  });

  it('names no node of the demo, since its meanings stand on the page of any site', () => {
    const telling = rows.filter(({ entry }) =>
      /\b(plot-\d|\w+-sw|vault|plotting|saltmarsh)\b/i.test(entry.meaning),
    );
    expect(telling.map(({ kind, name }) => `${kind}.${name}`)).toEqual([]);
  });
});
