import { describe, expect, it } from 'vitest';
import type { PortReadFacts } from '../../../../src/facts/port-facts.ts';
import { type LinkState, readLink } from '../../../../src/report/page/plan/link-state.ts';
import type { LinkSketch, NodeSketch } from '../../../site/builders.ts';
import { auditOf, emptySketch, join } from './drawn-sites.ts';

interface Row {
  readonly link?: LinkSketch;
  readonly desk?: PortReadFacts;
  readonly quay?: PortReadFacts;
  readonly node?: NodeSketch;
  readonly deskUnread?: boolean;
  readonly state: LinkState;
  readonly marks: readonly string[];
}

const rows: Readonly<Record<string, Row>> = {
  'runs as declared': { state: 'as-declared', marks: [] },
  'faster than declared': { link: { speedMbps: 1000 }, state: 'as-declared', marks: [] },
  'slower than declared at one end': {
    desk: { speedMbps: 1000 },
    state: 'slow',
    marks: ['1 of 10 Gb/s'],
  },
  'slower than declared, in another unit': {
    desk: { speedMbps: 100 },
    quay: { speedMbps: 100 },
    link: { speedMbps: 1000 },
    state: 'slow',
    marks: ['100 Mb/s of 1 Gb/s'],
  },
  'half duplex': {
    desk: { speedMbps: 100, duplex: 'half' },
    quay: { speedMbps: 100 },
    link: { speedMbps: 100 },
    state: 'slow',
    marks: ['100 Mb/s half duplex'],
  },
  'an MTU too small for the segment': {
    desk: { mtuBytes: 1500 },
    state: 'too-small',
    marks: ['MTU 1500'],
  },
  'two things at once, the graver one drawn': {
    desk: { mtuBytes: 1500, speedMbps: 1000 },
    state: 'too-small',
    marks: ['MTU 1500', '1 of 10 Gb/s'],
  },
  'no link': { desk: { operUp: false }, state: 'down', marks: ['down'] },
  'no link, at a node that sleeps': {
    quay: { operUp: false },
    node: { sleeps: true },
    deskUnread: true,
    state: 'down',
    marks: ['down, as it may be'],
  },
  'switched off': {
    quay: { adminUp: false, operUp: false },
    state: 'down',
    marks: ['switched off'],
  },
  'one end not read': { deskUnread: true, state: 'not-known', marks: ['one end not read'] },
  'an end that nobody reads, by the intent': {
    node: { unread: 'host', frameBytes: 9022 },
    state: 'as-declared',
    marks: [],
  },
};

describe('the state of a link', () => {
  it.each(Object.entries(rows))('%s', (_, row) => {
    const sketch = emptySketch();
    sketch.nodes['desk'] = row.node ?? {};
    join(sketch, ['desk:en0', 'quay-sw:g1'], row.link ?? {}, [row.desk, row.quay]);
    if (row.deskUnread === true) delete sketch.read['desk'];
    const [link] = auditOf(sketch, []).site.links;
    if (link === undefined) throw new Error('the site has no link');
    const { state, marks } = readLink(link);
    expect({ state, marks }).toEqual({ state: row.state, marks: row.marks });
  });

  it('is not known where nothing was read, whatever is declared', () => {
    const sketch = emptySketch();
    join(sketch, ['desk:en0', 'quay-sw:g1']);
    for (const name of ['desk', 'quay-sw']) delete sketch.read[name];
    const states = auditOf(sketch, []).site.links.map(readLink);
    expect(states.map(({ state, marks }) => [state, marks])).toEqual([['not-known', ['not read']]]);
  });
});
