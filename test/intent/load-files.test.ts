import { describe, expect, it } from 'vitest';
import { faultLine } from '../../src/intent/fault.ts';
import { includeDepthMax, intentFileBytesMax, intentFilesMax } from '../../src/intent/limits.ts';
import { loadIntent } from '../../src/intent/load-intent.ts';
import type { ReadTextFile } from '../../src/intent/read-text.ts';
import { loadFrom } from './load.ts';

type Files = Readonly<Record<string, string>>;

async function lines(files: Files, file = 'site.yaml'): Promise<readonly string[]> {
  const loaded = await loadFrom(files, file);
  return loaded.ok ? [] : loaded.faults.map(faultLine);
}

const main = (include: string) => `intent: 1\nnodes: { a: { at: x } }\ninclude: [${include}]\n`;

describe('includes', () => {
  it('are merged in order, each relative to the file that names it', async () => {
    const loaded = await loadFrom(
      {
        'net/site.yaml': `${main('parts/hall.yaml, ../shared.yaml')}policies: [jumbo]\n`,
        'net/parts/hall.yaml':
          'site: Hall\nnodes: { b: { at: y, access: hosts } }\ninclude: [../more/yard.yaml]\npolicies: [own.yaml, jumbo]\n',
        'net/more/yard.yaml': 'intent: 1\nnodes: { c: { at: z } }\nlinks: [{ ends: [a:1, c:1] }]\n',
        'shared.yaml': 'site: Shared\naccess: { hosts: { ssh: { user: auditor } } }\n',
      },
      'net/site.yaml',
    );
    if (!loaded.ok) throw new Error(loaded.faults.map(faultLine).join('\n'));
    const { files, site, nodes, links, policies } = loaded.value;
    expect(files).toEqual([
      'net/site.yaml',
      'net/parts/hall.yaml',
      'net/more/yard.yaml',
      'shared.yaml',
    ]);
    expect(site).toBe('Hall');
    expect(nodes.map(({ name, place }) => [name, place.file])).toEqual([
      ['a', 'net/site.yaml'],
      ['b', 'net/parts/hall.yaml'],
      ['c', 'net/more/yard.yaml'],
    ]);
    expect(nodes[1]?.access).toEqual([{ via: 'ssh', name: 'hosts', user: 'auditor' }]);
    expect(links[0]?.place).toEqual({ file: 'net/more/yard.yaml', line: 3, column: 9 });
    expect(policies.map(({ name, file }) => [name, file])).toEqual([
      ['jumbo', undefined],
      ['own.yaml', '/net/net/parts/own.yaml'],
    ]);
  });

  it('may meet in one file, which is then read once', async () => {
    const loaded = await loadFrom({
      'site.yaml': main('b.yaml, c.yaml'),
      'b.yaml': 'include: [d.yaml]',
      'c.yaml': 'include: [./d.yaml]',
      'd.yaml': 'nodes: { d: { at: y } }',
    });
    expect(loaded.ok && loaded.value.files).toEqual(['site.yaml', 'b.yaml', 'd.yaml', 'c.yaml']);
  });

  it('may be absolute', async () => {
    const loaded = await loadFrom({ 'site.yaml': main('/net/b.yaml'), 'b.yaml': 'site: B' });
    expect(loaded.ok && [loaded.value.site, loaded.value.files]).toEqual([
      'B',
      ['site.yaml', '/net/b.yaml'],
    ]);
  });

  const faulty: readonly (readonly [name: string, files: Files, ...told: string[]])[] = [
    [
      'a node twice',
      { 'site.yaml': main('b.yaml'), 'b.yaml': 'nodes:\n  a: { at: y }' },
      "b.yaml:2:3: 'a' is already the name of a node; first at site.yaml:2:10; rename one: nodes, segments and paths share one set of names",
    ],
    [
      'an access twice',
      {
        'site.yaml': `${main('b.yaml')}access: { h: { ssh: {} } }`,
        'b.yaml': 'access: { h: { ssh: {} } }',
      },
      "b.yaml:1:11: access 'h' is there twice; first at site.yaml:4:11; rename or remove one",
    ],
    [
      'a circle of two',
      { 'site.yaml': main('b.yaml'), 'b.yaml': 'include: [site.yaml]' },
      "b.yaml:1:11: the files include each other in a circle; 'site.yaml'; remove this include",
    ],
    [
      'itself',
      { 'site.yaml': main('site.yaml') },
      "site.yaml:3:11: the files include each other in a circle; 'site.yaml'; remove this include",
    ],
    [
      'a circle hides no other fault: all its files are read',
      {
        'site.yaml': `${main('b.yaml')}paths: { p: { from: a, to: c } }`,
        'b.yaml': 'include: [site.yaml]\nsegments: { s: {} }',
      },
      "b.yaml:1:11: the files include each other in a circle; 'site.yaml'; remove this include",
      "site.yaml:4:28: no node or segment has this name; 'c'; write one of a, s",
    ],
    [
      'a missing file; what may be in it is not told unknown',
      {
        'site.yaml': `${main('x/gone.yaml')}links: [{ ends: [a:1, b:1], untagged: s }]\npaths: { p: { from: a, to: b } }`,
      },
      "site.yaml:3:11: the file cannot be read: no such file; 'x/gone.yaml'; check its path, size and permissions",
    ],
    [
      'faults in several files, by file',
      {
        'site.yaml': `${main('b.yaml, c.yaml')}polices: [jumbo]`,
        'b.yaml': '- a list',
        'c.yaml': 'intent: 2\nnodes: { c: { rol: host } }',
      },
      "b.yaml:1:1: the file holds a list, not a map; write 'key: value' lines",
      "c.yaml:1:9: 'intent' must be 1; 2; write '1'",
      "c.yaml:2:15: 'c' has no such key; 'rol'; write 'role'",
      "site.yaml:4:1: an intent file has no such key; 'polices'; write 'policies'",
    ],
  ];
  for (const [name, files, ...told] of faulty) {
    it(`with a fault: ${name}`, async () => {
      expect(await lines(files)).toEqual(told);
    });
  }

  it('nest no deeper than the limit', async () => {
    const chain = (length: number) =>
      Object.fromEntries(
        Array.from({ length }, (_, i) => [
          i === 0 ? 'site.yaml' : `f${i}.yaml`,
          `${i === 0 ? 'intent: 1\nnodes: { a: { at: x } }\n' : ''}${i < length - 1 ? `include: [f${i + 1}.yaml]` : `site: S${i}`}`,
        ]),
      );
    expect(await lines(chain(includeDepthMax + 1))).toEqual([]);
    expect(await lines(chain(includeDepthMax + 2))).toEqual([
      `f8.yaml:1:11: includes nest more than 8 deep; 'f9.yaml'; include the file further up`,
    ]);
  });

  it('are no more than the limit', async () => {
    const names = Array.from({ length: intentFilesMax }, (_, i) => `f${i}.yaml`);
    const parts = Object.fromEntries(names.map((name) => [name, `site: ${name}`]));
    expect(await lines({ ...parts, 'site.yaml': main(names.slice(1).join()) })).toEqual([]);
    const [only, ...more] = await lines({ ...parts, 'site.yaml': main(names.join()) });
    expect(only).toMatch(/^site\.yaml:3:\d+: more than 64 files; 'f63\.yaml'; merge some of them$/);
    expect(more).toEqual([]);
  });
});

describe('the file itself', () => {
  it('that is missing is one fault', async () => {
    expect(await lines({}, 'gone.yaml')).toEqual([
      "gone.yaml:1:1: the file cannot be read: no such file; 'gone.yaml'; check its path, size and permissions",
    ]);
  });

  it('is refused above the limit, whoever reads it', async () => {
    const text = main('').replace('include: []\n', '').padEnd(intentFileBytesMax, '#');
    expect(await lines({ 'site.yaml': text.replace('}}#', '}} #') })).toEqual([]);
    expect(await lines({ 'site.yaml': `${text}#` })).toEqual([
      "site.yaml:1:1: the file cannot be read: it is longer than 1048576 bytes; 'site.yaml'; check its path, size and permissions",
    ]);
  });

  it('is asked for by its absolute path, and as it is without a working folder', async () => {
    const asked: string[] = [];
    const reader: ReadTextFile = async (path) => {
      asked.push(path);
      return { ok: true, text: path.endsWith('b.yaml') ? 'site: B' : main('../b.yaml') };
    };
    const shippedPolicies: readonly string[] = [];
    await loadIntent('x/a.yaml', reader, { shippedPolicies, workingFolder: '/home/w' });
    await loadIntent('x/a.yaml', reader, { shippedPolicies });
    expect(asked).toEqual(['/home/w/x/a.yaml', '/home/w/b.yaml', 'x/a.yaml', 'b.yaml']);
  });
});
