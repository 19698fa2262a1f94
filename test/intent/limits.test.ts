import { describe, expect, it } from 'vitest';
import { faultLine } from '../../src/intent/fault.ts';
import * as limits from '../../src/intent/limits.ts';
import { loadFrom } from './load.ts';

async function lines(text: string): Promise<readonly string[]> {
  const loaded = await loadFrom({ 'site.yaml': text });
  return loaded.ok ? [] : loaded.faults.map(faultLine);
}

const head = 'intent: 1\nnodes: { a: { at: x }, b: { at: y } }\n';

describe('limits of one file', () => {
  it('refuses more aliases than the limit', async () => {
    const paths = (count: number) =>
      `${head}site: &s S\npaths:\n  p: { from: a, to: b }\nwaivers:\n${`  - { rule: r, on: a, until: 2027-01-01, because: *s }\n`.repeat(count)}`;
    expect(await lines(paths(limits.yamlAliasesMax))).toEqual([]);
    expect(await lines(paths(limits.yamlAliasesMax + 1))).toEqual([
      'site.yaml:107:51: more than 100 aliases; write the values out',
    ]);
  });

  it('refuses few aliases that unfold into millions of values', async () => {
    const level = (i: number) =>
      `x${i}: &x${i} [${Array(9)
        .fill(`*x${i - 1}`)
        .join(', ')}]\n`;
    const bomb = `x0: &x0 [1, 2, 3, 4, 5, 6, 7, 8, 9]\n${[1, 2, 3, 4, 5, 6, 7, 8].map(level).join('')}`;
    const [only, ...more] = await lines(bomb);
    expect(only).toMatch(/^site\.yaml:\d+:\d+: more than 100 aliases; write the values out$/);
    expect(more).toEqual([]);
  });

  it('refuses large values that are aliased often', async () => {
    const list = Array(9_999).fill('1').join(',');
    const [only, ...more] = await lines(
      `a: &a [${list}]\nb: [${Array(40).fill('*a').join(',')}]\n`,
    );
    expect(only).toMatch(
      /^site\.yaml:1:\d+: more than 300000 values, aliases expanded; split the file, or use fewer aliases$/,
    );
    expect(more).toEqual([]);
  });

  it.each([
    ['braces', '{a: '],
    ['brackets', '['],
    ['list items', '- '],
    ['complex keys', '? '],
  ])('refuses %s that nest for ever, before the parser recurses', async (_, opening) => {
    const [only, ...more] = await lines(opening.repeat(200_000));
    expect(only).toMatch(
      /^site\.yaml:1:\d+: braces, brackets or blocks nest more than 64 deep; flatten it$/,
    );
    expect(more).toEqual([]);
  });

  it('refuses a run of too many pieces and too long a list', async () => {
    const run = Array(limits.runPiecesMax + 1)
      .fill('jack')
      .join(',');
    const names = Array.from({ length: limits.listItemsMax + 1 }, (_, i) => `n${i}`).join(',');
    expect(await lines(`${head}links: [{ ends: [a:1, b:1], run: [${run}] }]`)).toEqual([
      "site.yaml:3:29: 'run' has more than 64 entries; a list of 65; write 64 or fewer",
    ]);
    expect(await lines(`${head}paths: { p: { to: a, from: [${names}] } }`)).toEqual([
      "site.yaml:3:22: 'from' has more than 1000 entries; a list of 1001; write 1000 or fewer",
    ]);
  });

  it('tells so many faults and how many more there are', async () => {
    const bad = Array.from({ length: limits.faultsMax + 7 }, (_, i) => `  n${i}: {}\n`).join('');
    const told = await lines(`intent: 1\nnodes:\n${bad}`);
    expect(told).toHaveLength(limits.faultsMax + 1);
    expect(told.at(-1)).toBe('site.yaml:202:3: 7 more faults are not shown; repair these first');
  });
});

describe('limits of one intent', () => {
  it('refuses more nodes than the limit', async () => {
    const node = (_: unknown, i: number) => `  n${i}: { at: x }\n`;
    const nodes = Array.from({ length: limits.nodesMax + 1 }, node).join('');
    expect(await lines(`intent: 1\nnodes:\n${nodes}`)).toEqual([
      'site.yaml:10003:3: more than 10000 of these, all files together; 10001; split the site into several',
    ]);
  });

  it('refuses more pairs of ends of a path than the limit', async () => {
    const names = (side: string) => Array.from({ length: 101 }, (_, i) => `${side}${i}`);
    const nodes = [...names('f'), ...names('t')].map((name) => `  ${name}: { unread: host }\n`);
    const path = `paths: { p: { from: [${names('f').join()}], to: [${names('t').join()}] } }`;
    expect(await lines(`intent: 1\nnodes:\n${nodes.join('')}${path}`)).toEqual([
      'site.yaml:205:21: the path has more than 10000 pairs of ends; 10201; split it into several paths',
    ]);
  });

  it('refuses more nightly fits than a night holds', async () => {
    const names = (side: string, count: number) =>
      Array.from({ length: count }, (_, i) => `${side}${i}`);
    const told = (count: number) => {
      const ends = { from: names('f', count), to: names('t', 10) };
      const nodes = [...ends.from, ...ends.to].map((name) => `  ${name}: { unread: host }\n`);
      const path = `paths: { p: { from: [${ends.from.join()}], to: [${ends.to.join()}], fit: nightly } }`;
      return lines(`intent: 1\nnodes:\n${nodes.join('')}${path}`);
    };
    expect(await told(limits.nightlyPairsMax / 10)).toEqual([]);
    expect(await told(limits.nightlyPairsMax / 10 + 1)).toEqual([
      "site.yaml:24:100: 'fit: nightly' on more than 100 pairs of ends; 110; keep it for paths of which settings cannot tell, and name fewer ends",
    ]);
  });
});
