import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Intent } from '../../src/intent/types.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { makeIntent, type NodeSketch } from './builders.ts';

const segments = ['office', 'storage'] as const;

interface Wire {
  readonly a: number;
  readonly b: number;
  readonly carries: readonly string[];
}

/** Hosts a, b and host, which may have several links; 2 to 5 switches, 7 and 8 routers. */
const nodeNames = ['a', 'b', 's2-sw', 's3-sw', 's4-sw', 's5-sw', 'host', 'r7', 'r8'] as const;

interface Ends {
  readonly from: string;
  readonly to: string;
}

function intentOf(wires: readonly Wire[], over: readonly string[], { from, to }: Ends): Intent {
  const nodes: Record<string, NodeSketch> = {};
  for (const name of nodeNames) nodes[name] = { routes: name.startsWith('r') };
  const links = wires.map(({ a, b, carries }, at) => [
    `${nodeNames[a]}:p${at} - ${nodeNames[b]}:q${at}`,
    { tagged: carries },
  ]);
  return makeIntent({
    nodes,
    segments: { office: { vlan: 1 }, storage: { vlan: 20 } },
    links: Object.fromEntries(links),
    paths: { way: { from: [from], to: [to], over } },
  });
}

/** Every way that meets no node twice in one segment, crosses routers only between segments. */
function byEnumeration(intent: Intent, over: readonly string[], { from, to }: Ends): string[] {
  const used = new Set<string>();
  const walk = (node: string, segment: string, visited: readonly string[], way: string[]) => {
    if (node === to) {
      for (const port of way) used.add(port);
      return;
    }
    for (const { ends, tagged } of intent.links) {
      for (const [near, far] of [ends, ends.toReversed()]) {
        if (near?.node !== node || far === undefined || far.node === from) continue;
        for (const next of tagged) {
          if (!over.includes(next)) continue;
          const routes = node.startsWith('r');
          if (node !== from && routes === (next === segment)) continue;
          if (far.node !== to && ['a', 'b', 'host'].includes(far.node)) continue;
          const key = far.node.startsWith('r') ? far.node : `${far.node} ${next}`;
          if (visited.includes(key)) continue;
          const ports = [`${near.node}:${near.port}`, `${far.node}:${far.port}`];
          walk(far.node, next, [...visited, key], [...way, ...ports]);
        }
      }
    }
  };
  walk(from, '', [], []);
  return [...used].sort();
}

const wire = fc
  .record({
    a: fc.integer({ min: 0, max: 8 }),
    b: fc.integer({ min: 0, max: 8 }),
    carries: fc.subarray([...segments], { minLength: 1 }),
  })
  .filter(({ a, b }) => a !== b);

/** A router with several links in one segment is judged on the safe side: not compared here. */
function routersSingle(wires: readonly Wire[]): Wire[] {
  const seen = new Set<string>();
  return wires.filter(({ a, b, carries }) => {
    const keys = [a, b].filter((at) => at >= 7).flatMap((at) => carries.map((s) => `${at} ${s}`));
    if (keys.some((key) => seen.has(key))) return false;
    for (const key of keys) seen.add(key);
    return true;
  });
}

describe('the hops of a path', () => {
  it('are the ports of all loop-free ways, as an enumeration finds them', () => {
    const sites = fc.record({
      wires: fc.array(wire, { minLength: 4, maxLength: 12 }).map(routersSingle),
      over: fc.subarray([...segments], { minLength: 1 }),
      ends: fc.record({
        from: fc.constantFrom('a', 'a', 's2-sw', 'r7'),
        to: fc.constantFrom('b', 'b', 's3-sw', 'r8'),
      }),
    });
    let joined = 0;
    fc.assert(
      fc.property(sites, ({ wires, over, ends }) => {
        const intent = intentOf(wires, over, ends);
        const path = buildSite(intent, undefined, { strict: false }).paths[0];
        const ports = [...new Set(path?.hops.map((hop) => hop.port.id))].sort();
        expect(ports).toEqual(byEnumeration(intent, over, ends));
        const linked = wires.flatMap(({ a, b }) => [nodeNames[a], nodeNames[b]]);
        const declared = linked.some((node) => node === ends.from || node === ends.to);
        expect(path?.subject.facts['connected']).toBe(!declared || ports.length > 0);
        if (ports.length > 0) joined += 1;
      }),
      { numRuns: 1500, seed: 20_27 },
    );
    expect(joined).toBeGreaterThan(300);
  });
});
