import type { PortReadFacts } from '../../../../src/facts/port-facts.ts';
import { judge } from '../../../../src/judge/judge.ts';
import type { Policy } from '../../../../src/judge/policy.ts';
import type { AuditResult } from '../../../../src/report/types.ts';
import { buildSite } from '../../../../src/site/build-site.ts';
import { subjectsOf } from '../../../../src/site/subjects-of.ts';
import {
  type IntentSketch,
  type LinkSketch,
  makeIntent,
  makeSurvey,
  type NodeReadingSketch,
  type NodeSketch,
} from '../../../site/builders.ts';

/** A site under construction: links by `a:port - b:port`, with what their ends say. */
export interface Sketch {
  readonly nodes: Record<string, NodeSketch>;
  readonly links: Record<string, LinkSketch>;
  readonly read: Record<string, Record<string, PortReadFacts>>;
  /** Segments of 9000 and 1500 bytes unless others are named. */
  readonly segments?: IntentSketch['segments'];
  readonly paths?: IntentSketch['paths'];
}

/** A sketch of nothing. */
export function emptySketch(): Sketch {
  return { nodes: {}, links: {}, read: {} };
}

/** Joins two ports, `node:port` each, at 10 Gb/s and 9000 bytes unless the ends say otherwise. */
export function join(
  sketch: Sketch,
  ends: readonly [string, string],
  link: LinkSketch = {},
  facts: readonly (PortReadFacts | undefined)[] = [],
): void {
  for (const [at, end] of ends.entries()) {
    const [node = '', port = ''] = end.split(':');
    sketch.nodes[node] ??= node.endsWith('-sw')
      ? { mtuCounts: { port: 'payload' }, believe: ['mtu'] }
      : {};
    sketch.read[node] = { ...sketch.read[node], [port]: { mtuBytes: 9000, ...facts[at] } };
  }
  sketch.links[ends.join(' - ')] = { untagged: 'storage', speedMbps: 10_000, ...link };
}

/** What an audit of the sketch comes to. */
export function auditOf(sketch: Sketch, policies: readonly Policy[]): AuditResult {
  const { nodes, links, read, paths } = sketch;
  const segments = sketch.segments ?? { storage: { mtuBytes: 9000 }, office: { mtuBytes: 1500 } };
  const survey = makeSurvey(
    Object.fromEntries(
      Object.entries(read)
        .filter(([name]) => nodes[name]?.unread === undefined)
        .map(([name, ports]): [string, NodeReadingSketch] => [
          name,
          { facts: name.endsWith('-sw') ? {} : { systemKind: 'linux' }, ports },
        ]),
    ),
  );
  const site = buildSite(makeIntent({ nodes, links, segments, ...(paths && { paths }) }), survey, {
    strict: false,
  });
  const judgement = judge(subjectsOf(site), policies, { waivers: [], now: '2026-11-25' });
  return {
    site,
    judgement,
    survey,
    startedAt: survey.startedAt,
    endedAt: survey.endedAt,
    toolVersion: '0.1.0',
    strict: false,
    least: 'warning',
  };
}

/** 2 switches in the middle, 8 around them, 40 at the floors with 150 hosts: a tree with two ways up. */
export function campus(): Sketch {
  const sketch = emptySketch();
  const slow: PortReadFacts = { speedMbps: 1000 };
  for (const port of ['x1', 'x2'])
    join(sketch, [`core-1-sw:${port}`, `core-2-sw:${port}`], { lag: 'cores' });
  for (let wing = 1; wing <= 8; wing += 1) {
    for (const core of [1, 2])
      join(sketch, [`core-${core}-sw:w${wing}`, `wing-${wing}-sw:up${core}`]);
  }
  for (let floor = 1; floor <= 40; floor += 1) {
    const wing = ((floor - 1) % 8) + 1;
    const other = (wing % 8) + 1;
    join(sketch, [`wing-${wing}-sw:f${floor}`, `floor-${floor}-sw:up1`]);
    if (floor % 3 === 0)
      join(sketch, [`wing-${other}-sw:f${floor}`, `floor-${floor}-sw:up2`], {}, [slow, slow]);
  }
  for (let host = 1; host <= 150; host += 1) {
    const facts: PortReadFacts =
      host % 31 === 0 ? { mtuBytes: 1500 } : host % 41 === 0 ? { operUp: false } : {};
    join(sketch, [`table-${host}:eth0`, `floor-${((host - 1) % 40) + 1}-sw:p${host}`], {}, [facts]);
  }
  return sketch;
}

/** Switches that each have a link to the next, the last to the first, and a host or two each. */
export function ring(count = 6): Sketch {
  const sketch = emptySketch();
  for (let at = 1; at <= count; at += 1) {
    const next = (at % count) + 1;
    const facts: readonly PortReadFacts[] = at === 4 ? [{ speedMbps: 1000 }] : [];
    join(sketch, [`dyke-${at}-sw:east`, `dyke-${next}-sw:west`], {}, facts);
    for (const side of ['a', 'b'].slice(at % 2))
      join(sketch, [`sluice-${at}${side}:eth0`, `dyke-${at}-sw:${side}`]);
  }
  return sketch;
}

/** Every switch with a link to every other. */
export function mesh(count = 6): Sketch {
  const sketch = emptySketch();
  for (let a = 1; a <= count; a += 1) {
    for (let b = a + 1; b <= count; b += 1)
      join(
        sketch,
        [`pond-${a}-sw:p${b}`, `pond-${b}-sw:p${a}`],
        {},
        a === 2 && b === 5 ? [{ mtuBytes: 1500 }] : [],
      );
    join(sketch, [`gauge-${a}:eth0`, `pond-${a}-sw:g`]);
  }
  return sketch;
}

/** One switch and what hangs on it. */
export function star(hosts = 48): Sketch {
  const sketch = emptySketch();
  for (let host = 1; host <= hosts; host += 1) {
    const facts: PortReadFacts =
      host === 7 ? { speedMbps: 100, duplex: 'half' } : host === 19 ? { mtuBytes: 1500 } : {};
    join(sketch, [`plot-${host}:en0`, `quay-sw:g${host}`], {}, [
      facts,
      host === 7 ? { speedMbps: 100 } : {},
    ]);
  }
  return sketch;
}

/** Two islands, two hosts on one cord, a loop, and nodes in no link. */
export function islands(): Sketch {
  const sketch = emptySketch();
  for (const island of ['north', 'south']) {
    join(sketch, [`${island}-1-sw:x`, `${island}-2-sw:x`]);
    for (const host of [1, 2, 3])
      join(sketch, [`${island}-host-${host}:eth0`, `${island}-1-sw:p${host}`]);
    for (const port of [1, 2])
      join(sketch, [`${island}-store:eth${port}`, `${island}-2-sw:s${port}`], {
        lag: `${island}-up`,
      });
  }
  join(sketch, ['left:eth0', 'right:eth0'], {}, [{ operUp: false }]);
  join(sketch, ['north-2-sw:a', 'north-2-sw:b']);
  for (const name of ['buoy', 'lamp', 'shed-sw']) sketch.nodes[name] = {};
  return sketch;
}

/** Hosts with a leg on each of two switches, as storage often has. */
export function twoLegged(hosts = 24): Sketch {
  const sketch = emptySketch();
  for (const port of ['x1', 'x2'])
    join(sketch, [`left-sw:${port}`, `right-sw:${port}`], { lag: 'peer' });
  for (let host = 1; host <= hosts; host += 1) {
    for (const [leg, side] of ['left', 'right'].entries())
      join(sketch, [`store-${host}:eth${leg}`, `${side}-sw:p${host}`]);
  }
  return sketch;
}

/** A link in each state, two of one aggregate, and a node of each kind. */
export function states(): Sketch {
  const sketch = emptySketch();
  join(sketch, ['fine:en0', 'quay-sw:g1']);
  join(sketch, ['slow:en0', 'quay-sw:g2'], {}, [{ speedMbps: 1000 }]);
  join(sketch, ['small:en0', 'quay-sw:g3'], {}, [{ mtuBytes: 1500 }]);
  join(sketch, ['cut:en0', 'quay-sw:g4'], {}, [{ operUp: false }]);
  join(sketch, ['asleep:en0', 'quay-sw:g5']);
  delete sketch.read['asleep'];
  join(sketch, ['quay-sw:x1', 'loft-sw:x1']);
  join(sketch, ['gate:em0', 'loft-sw:x2']);
  sketch.nodes['gate'] = { routes: true };
  for (const leg of [1, 2])
    join(sketch, [`vault:eth${leg}`, `loft-sw:v${leg}`], { lag: 'vault-up' });
  sketch.nodes['labeller'] = { unread: 'printer' };
  join(sketch, ['labeller:lan', 'loft-sw:g9'], { untagged: 'office', speedMbps: 100 }, [
    {},
    { speedMbps: 100, mtuBytes: 1500 },
  ]);
  return sketch;
}
