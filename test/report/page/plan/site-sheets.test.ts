import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../../../src/facts/port-facts.ts';
import { drawnNodesMax, sheetsOf } from '../../../../src/report/page/plan/site-sheets.ts';
import { auditOf, campus, emptySketch, join, type Sketch, star } from './drawn-sites.ts';

/** Two segments: one of switches and many hosts, one of few; and nodes in no link. */
function large(hosts: number): Sketch {
  const sketch = emptySketch();
  for (let host = 1; host <= hosts; host += 1) {
    const facts: PortReadFacts =
      host === 3 ? { operUp: false } : host === 4 ? { mtuBytes: 1500 } : {};
    join(sketch, [`plot-${host}:en0`, `quay-${host % 4}-sw:g${host}`], {}, [facts]);
  }
  for (let at = 1; at < 4; at += 1) join(sketch, [`quay-0-sw:x${at}`, `quay-${at}-sw:up`]);
  join(sketch, ['desk:en0', 'quay-0-sw:o1'], { untagged: 'office' });
  join(sketch, ['lone-a:en0', 'lone-b:en0'], {});
  const { untagged: _, ...bare } = sketch.links['lone-a:en0 - lone-b:en0'] ?? {};
  sketch.links['lone-a:en0 - lone-b:en0'] = bare;
  sketch.nodes['buoy'] = {};
  return sketch;
}

describe('the drawings of a site', () => {
  it('are one up to 200 nodes, with everything in it', () => {
    const result = auditOf(campus(), []);
    const sheets = sheetsOf(result);
    expect(sheets.map(({ nodes, links }) => [nodes.length, links.length])).toEqual([
      [drawnNodesMax, result.site.links.length],
    ]);
  });

  it('are one for each segment above that, and what is in none is drawn as well', () => {
    const sheets = sheetsOf(auditOf(large(195), []));
    expect(sheets.map(({ title }) => title)).toEqual([
      'segment office',
      'segment storage',
      'links in no segment',
      'nodes in no link',
    ]);
    const [office, , bare, lone] = sheets;
    expect(office?.nodes.map(({ name }) => name)).toEqual(['desk', 'quay-0-sw']);
    expect(bare?.nodes.map(({ name }) => name)).toEqual(['lone-a', 'lone-b']);
    expect(lone?.nodes.map(({ name }) => name)).toEqual(['buoy']);
  });

  it('count the hosts behind each switch of a segment that is too large, and what is amiss', () => {
    const storage = sheetsOf(auditOf(large(320), [])).find(({ title }) =>
      title.endsWith('storage'),
    );
    expect(storage?.nodes.map(({ name }) => name)).toEqual([
      'quay-0-sw',
      'quay-1-sw',
      'quay-2-sw',
      'quay-3-sw',
      ...Array(4).fill('80 hosts'),
    ]);
    const counts = storage?.links.filter(({ link }) => link === undefined) ?? [];
    const told = counts.map(({ ends, reading }) => [ends[0], reading.state, reading.marks]);
    expect(told.sort()).toEqual([
      ['quay-0-sw', 'too-small', ['1 MTU too small']],
      ['quay-1-sw', 'as-declared', []],
      ['quay-2-sw', 'as-declared', []],
      ['quay-3-sw', 'down', ['1 down']],
    ]);
  });

  it('leave no node and no link out, however many there are', () => {
    const result = auditOf(large(195), []);
    const sheets = sheetsOf(result);
    const drawn = new Set(sheets.flatMap(({ nodes }) => nodes.map(({ name }) => name)));
    expect(drawn).toEqual(new Set(result.site.nodes.map(({ declared }) => declared.name)));
    const links = new Set(sheets.flatMap((sheet) => sheet.links.map(({ id }) => id)));
    expect(links).toEqual(new Set(result.site.links.map(({ declared }) => declared.id)));
  });

  it('draw a link that is heard of and not declared', () => {
    const result = auditOf(star(2), []);
    const [node] = result.site.nodes;
    if (node === undefined) throw new Error('the site has no node');
    const facts = {
      ...node.subject.facts,
      undeclaredLinks: ['plot-1:en9 - quay-sw:g9', 'plot-1:x - nobody:y'],
    };
    const nodes = [{ ...node, subject: { ...node.subject, facts } }, ...result.site.nodes.slice(1)];
    const [sheet] = sheetsOf({ ...result, site: { ...result.site, nodes } });
    const found = sheet?.links.filter(({ reading }) => reading.state === 'not-declared');
    expect(found?.map(({ id, ends }) => [id, ends])).toEqual([
      ['plot-1:en9 - quay-sw:g9', ['plot-1', 'quay-sw']],
    ]);
  });
});
