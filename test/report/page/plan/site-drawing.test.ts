import { beforeAll, describe, expect, it } from 'vitest';
import { parseJson } from '../../../../src/facts/json.ts';
import type { Policy } from '../../../../src/judge/policy.ts';
import { jsonReport } from '../../../../src/report/json-report.ts';
import { siteDrawings } from '../../../../src/report/page/plan/site-drawing.ts';
import { siteStyle } from '../../../../src/report/page/plan/site-drawing-style.ts';
import { reportSchema } from '../../../../src/report/report-schema.ts';
import type { AuditResult } from '../../../../src/report/types.ts';
import { loadShipped } from '../../../judge/shipped.ts';
import { allSites } from '../../all-sites.ts';
import { whole } from '../../whole.ts';
import {
  auditOf,
  campus,
  emptySketch,
  islands,
  join,
  mesh,
  ring,
  star,
  states,
  twoLegged,
} from './drawn-sites.ts';

let policies: readonly Policy[] = [];
beforeAll(async () => {
  policies = await loadShipped('essential', 'jumbo');
});

const drawnText = (result: AuditResult) =>
  siteDrawings(result)
    .map(({ drawing }) => drawing.text)
    .join('\n');

const attribute = (tag: string, name: string) => new RegExp(` ${name}="([^"]*)"`).exec(tag)?.[1];
const tagsOf = (text: string, name: string) =>
  [...text.matchAll(/<(?:a|g) [^>]*>/g)]
    .map(([tag]) => tag)
    .filter((tag) => tag.includes(` ${name}=`));

const sketches = { campus, ring, mesh, star, islands, twoLegged };

describe('the drawing of a site', () => {
  it.each(Object.entries(sketches))('of %s leads from every node to its details', (_, make) => {
    const result = auditOf(make(), policies);
    const nodes = tagsOf(drawnText(result), 'data-node');
    expect(nodes.map((tag) => attribute(tag, 'data-node')).sort()).toEqual(
      result.site.nodes.map(({ declared }) => declared.name).sort(),
    );
    for (const tag of nodes) {
      expect(tag).toMatch(/^<a /);
      expect(attribute(tag, 'href')).toBe(`#node-${attribute(tag, 'data-node')}`);
      expect(attribute(tag, 'aria-label')).toContain(attribute(tag, 'data-node'));
    }
  });

  it.each(Object.entries(sketches))(
    'of %s has every link once, one amiss as a way on',
    (_, make) => {
      const result = auditOf(make(), policies);
      const links = tagsOf(drawnText(result), 'data-link');
      expect(links.map((tag) => attribute(tag, 'data-link')).sort()).toEqual(
        result.site.links.map(({ declared }) => declared.id).sort(),
      );
      for (const tag of links) {
        const amiss =
          attribute(tag, 'data-state') !== 'as-declared' || !/class="[^"]* met"/.test(tag);
        expect(tag.startsWith('<a ')).toBe(amiss);
        if (amiss) expect(attribute(tag, 'href')).toMatch(/^#link-[\w.~-]+$/);
        if (amiss) expect(attribute(tag, 'aria-label')).toContain(attribute(tag, 'data-link'));
      }
    },
  );

  it('puts no sign of health on a node that nobody read', () => {
    const ticks = (result: AuditResult) =>
      [...drawnText(result).matchAll(/<a class="node [^>]*>.*?<\/a>/gs)].flatMap(([shape]) => {
        const name = attribute(shape, 'data-node') ?? '';
        return shape.includes('<g class="met"') ? [name] : [];
      });
    const result = auditOf(states(), policies);
    expect(result.site.nodes.map(({ declared }) => declared.name)).toContain('labeller');
    const ticked = ticks(result);
    expect(ticked).toContain('loft-sw');
    expect(ticked).not.toContain('labeller');
    expect(drawnText(result)).toContain('aria-label="labeller: host, on your word"');
  });

  it('writes a word on each link that is not as declared', () => {
    const text = drawnText(auditOf(star(), policies));
    expect(text).toContain('>100 Mb/s of 10 Gb/s, half duplex</text>');
    expect(text).toContain('>MTU 1500</text>');
    const marked = [...text.matchAll(/<a class="link (?:slow|too-small)[\s\S]*?<\/a>/g)];
    expect(marked).toHaveLength(2);
    for (const [each] of marked) expect(each).toContain('<text class="word"');
  });

  it('is a group with a name and a description, since there are ways on in it', () => {
    const text = drawnText(auditOf(ring(), policies));
    expect(text).toMatch(
      /<svg class="site least-\d+" role="group"[^>]* aria-labelledby="site-1-title" aria-describedby="site-1-desc"/,
    );
    expect(text).toContain(
      '<title id="site-1-title">Saltmarsh survey office: nodes and links</title>',
    );
    expect(text).toContain(
      '<desc id="site-1-desc">15 nodes, 15 links, 14 of them as declared; dyke-4-sw:east - dyke-5-sw:west: 1 of 10 Gb/s',
    );
  });

  it('says in a table what it draws: each link with what runs and what should', () => {
    const text = drawnText(auditOf(ring(), policies));
    expect(text.match(/<tr><th scope="row">/g)).toHaveLength(15);
    expect(text).toContain(
      '<tr><th scope="row"><a href="#link-dyke-4-sw~3aeast~20-~20dyke-5-sw~3awest">dyke-4-sw:east - dyke-5-sw:west</a><td>slower, or in another duplex, than it should be: 1 of 10 Gb/s<td>1 Gb/s full / 10 Gb/s full<td>10 Gb/s<td>9000<td>9000 bytes<td>',
    );
  });

  it('ties the members of an aggregate, at both nodes that they join', () => {
    const text = drawnText(auditOf(campus(), []));
    expect(text.match(/<title>aggregate cores<\/title>/g)).toHaveLength(2);
  });

  it.each(Object.entries(allSites))(
    'is made of the state %s of the office as well',
    (_, result) => {
      const text = drawnText(result);
      for (const { declared } of result.site.nodes)
        expect(text).toContain(`data-node="${declared.name}"`);
    },
  );
});

describe('numbers of a drawing', () => {
  it('are those of the JSON form', () => {
    const sketch = {
      ...emptySketch(),
      paths: { plotting: { from: ['plot'], to: ['vault'], over: ['storage'] } },
    };
    join(sketch, ['plot:en0', 'quay-sw:g1'], {}, [{ mtuBytes: 1500, speedMbps: 2500 }]);
    join(sketch, ['quay-sw:x', 'loft-sw:x'], {}, [{ mtuBytes: 9216 }, { mtuBytes: 9100 }]);
    join(sketch, ['loft-sw:g2', 'vault:eth4'], {}, [{}, { speedMbps: 1000 }]);
    const result = auditOf(sketch, policies);
    const { paths } = reportSchema.parse(parseJson(whole(jsonReport(result))));
    const hops = paths.flatMap((path) => path.hops);
    const drawn = tagsOf(drawnText(result), 'data-link').flatMap((tag) =>
      ['a', 'b'].map((side) => ({
        port: attribute(tag, `data-${side}`),
        speedMbps: Number(attribute(tag, `data-${side}-mbps`)),
        mtuBytes: Number(attribute(tag, `data-${side}-mtu`)),
      })),
    );
    const order = (a: { port?: string | undefined }, b: { port?: string | undefined }) =>
      (a.port ?? '') < (b.port ?? '') ? -1 : 1;
    expect(hops).toHaveLength(6);
    expect(drawn.sort(order)).toEqual(
      hops.map(({ port, speedMbps, mtuBytes }) => ({ port, speedMbps, mtuBytes })).sort(order),
    );
  });
});

describe('hostile names', () => {
  const names = [
    '"><script>alert(1)</script>',
    '\u202egpj.exe',
    `${'A'.repeat(10_000)}`,
    "' onload='x",
    '漢字漢字漢字漢字漢字漢字漢字',
  ];

  it('stay text, and fit their boxes', () => {
    const sketch = emptySketch();
    for (const name of names) join(sketch, [`${name}:en0`, 'quay-sw:g1']);
    const text = drawnText(auditOf(sketch, policies));
    const elements = new Set([...text.matchAll(/<([a-zA-Z]+)[ >]/g)].map(([, name]) => name));
    const known =
      'a desc details div g li path rect summary svg table tbody td text th thead title tr ul';
    expect([...elements].sort()).toEqual(known.split(' '));
    expect(text).not.toMatch(/[\u202a-\u202e\u2066-\u2069]/);
    const bare = [...text.matchAll(/<[^>]*>/g)].map(([tag]) => tag.replaceAll(/"[^"]*"/g, ''));
    expect(bare.filter((tag) => / on\w+=| style=/.test(tag))).toEqual([]);
    for (const [, name = ''] of text.matchAll(/<text class="name"[^>]*>([^<]*)</g)) {
      const shown = name.replaceAll(/&[#\w]+;/g, 'x');
      expect(shown.length).toBeLessThanOrEqual(20);
    }
  });
});

describe('the look of a drawing', () => {
  it('uses the colours of the page and no others', () => {
    expect(siteStyle).not.toMatch(/#[0-9a-f]{3,8}\b|rgb|hsl/i);
    const used = new Set([...siteStyle.matchAll(/var\((--\w+)\)/g)].map(([, name]) => name));
    const known = [
      '--paper',
      '--ink',
      '--faint',
      '--line',
      '--load',
      '--strike',
      '--met',
      '--doubt',
      '--waived',
      '--focus',
    ];
    for (const name of used) expect(known).toContain(name);
  });

  it('gives every state but the usual one a pattern of its own', () => {
    const patterns = ['down', 'too-small', 'slow', 'not-known', 'not-declared'].map(
      (state) => new RegExp(`\\.${state} \\.line\\{stroke-dasharray:([^;}]+)`).exec(siteStyle)?.[1],
    );
    expect(patterns).not.toContain(undefined);
    expect(new Set(patterns).size).toBe(patterns.length);
  });
});
