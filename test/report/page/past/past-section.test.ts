import { describe, expect, it } from 'vitest';
import { findingPasts } from '../../../../src/report/page/past/finding-past.ts';
import { pagePast, pastOfNodes } from '../../../../src/report/page/past/page-past.ts';
import { pastSection, portsDrawnMax } from '../../../../src/report/page/past/past-section.ts';
import { auditAt, changedAt, day, grownAt, pastOf } from './past-sketch.ts';

const node = 'quay-sw';
const nights = [
  auditAt(20),
  auditAt(21, { broken: 4, waived: 1 }),
  auditAt(22, { undetermined: 2, complete: false, nodesRead: 2 }),
  auditAt(23),
];
const past = {
  ...pastOf([20, 21, 22, 23], {
    changes: [changedAt(21, 9216, 1500)],
    growths: [grownAt(23, 12)],
    silences: [{ node, seenAt: day(21, 9), endedAt: day(23) }],
  }),
  nights,
};
const text = pastSection(pagePast(past, () => undefined)).text;

describe('the history on a page', () => {
  it('draws each night with the counts of its audit, and marks what did not read all nodes', () => {
    const drawn = [
      ...text.matchAll(
        /<g data-at="([^"]+)" data-met="(\d+)" data-broken="(\d+)" data-undetermined="(\d+)" data-waived="(\d+)">(.*?)<\/g>/g,
      ),
    ];
    expect(drawn.map((each) => each.slice(1, 6))).toEqual(
      nights.map((night) => [
        night.startedAt,
        ...[night.met, night.broken, night.undetermined, night.waived].map(String),
      ]),
    );
    expect(drawn.map(({ 6: inside = '' }) => inside.includes('>?<'))).toEqual([
      false,
      false,
      true,
      false,
    ]);
    expect(text).toContain('<td>2 of 3, not complete</td>');
  });

  it('says that what is worth knowing is counted with what is broken, unlike in the head', () => {
    expect(text).toContain('</svg> broken, or worth knowing</li>');
    expect(text).toContain('<th scope="col">broken, or worth knowing</th>');
    expect(text).toContain('2026-11-21 02:00 UTC 4 broken, or worth knowing, 0 undetermined');
  });

  it('draws what was not read as a gap: no line has a value there', () => {
    const steps = [
      ...text.matchAll(
        /class="step"[^>]*data-from="([^"]+)" data-to="([^"]+)" data-value="([^"]+)"/g,
      ),
    ];
    expect(steps.map((each) => each.slice(1, 4))).toEqual([
      [day(20), day(21), '9216'],
      [day(21), day(22), '1500'],
      [day(23), day(23), '1500'],
      [day(20), day(22), '0'],
      [day(23), day(23), '12'],
    ]);
    const gaps = [
      ...text.matchAll(/class="gap" data-from="([^"]+)" data-to="([^"]+)" data-gap="([^"]+)"/g),
    ];
    expect(gaps.map((each) => each.slice(1, 4))).toEqual([
      [day(22), day(23), 'the node was not read'],
      [day(22), day(23), 'the node was not read'],
    ]);
    expect(text).toContain(
      'quay-sw: last read 2026-11-21 02:00 UTC, read again 2026-11-23 02:00 UTC',
    );
  });

  it('says every drawing in words and in a table, with units', () => {
    expect(text).toContain('<title id="past-0-0-title">quay-sw:xg3: MTU</title>');
    expect(text).toContain(
      '2026-11-20 02:00 UTC to 2026-11-21 02:00 UTC: 9216 bytes; 2026-11-21 02:00 UTC to 2026-11-22 02:00 UTC: 1500 bytes',
    );
    expect(text).toContain(
      '<tr><td>2026-11-22 02:00 UTC</td><td>2026-11-23 02:00 UTC</td><td><i>the node was not read</i></td></tr>',
    );
  });

  it('has no style of its own and no id twice', () => {
    expect(text).not.toMatch(/\sstyle=|\son\w+=/);
    const ids = [...text.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
    expect(ids.length).toBeGreaterThan(4);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('escapes names', () => {
    const bad = '<b>"\'&';
    const changes = [{ ...changedAt(21, 9216, 1500), port: bad }];
    const written = pastSection(pagePast(pastOf([20, 21], { changes }), () => undefined)).text;
    expect(written).not.toContain('<b>"');
    expect(written).toContain('quay-sw:&lt;b&gt;&quot;&#39;&amp;');
  });

  it('draws the ports that moved last where there are too many, and says so', () => {
    const changes = Array.from({ length: portsDrawnMax + 2 }, (_, at) => ({
      ...changedAt(at === 7 ? 23 : 21, 9216, 1500),
      port: `p${at}`,
    }));
    const written = pastSection(
      pagePast(pastOf([20, 21, 22, 23], { changes }), () => undefined),
    ).text;
    expect(written.match(/class="past-port"/g)?.length).toBe(portsDrawnMax);
    expect(written).toContain('id="past-0-0-title">quay-sw:p7: MTU<');
    expect(written).toContain(`of ${portsDrawnMax + 2} ports that moved the ${portsDrawnMax}`);
  });

  it('says what the store has more of than was read', () => {
    const cut = { changes: day(21) };
    expect(pastSection(pagePast(pastOf([20, 21], { cut }), () => undefined)).text).toContain(
      'changes of ports before 2026-11-21 02:00 UTC are left out here',
    );
  });

  it('without any night says so', () => {
    expect(pastSection(pagePast(pastOf([]), () => undefined)).text).toContain(
      'no audit is kept so far',
    );
  });

  it('of one node has its ports and findings alone', () => {
    const all = pagePast(past, () => undefined);
    expect(pastOfNodes(all)('vault', []).ports).toEqual([]);
    expect(pastOfNodes(all)(node, []).ports).toEqual(all.ports);
  });
});

describe('the history of a finding', () => {
  const life = {
    id: 'a1b2c3d4e5',
    policy: 'jumbo',
    rule: 'path-clearance',
    subject: { kind: 'path', id: 'plotting' },
    severity: 'error',
    verdict: 'broken',
    what: 'carries at most 1500 of 9000 bytes. TCP stalls',
    cause: 'mtu quay-sw:xg3',
    since: day(20),
    lastAt: day(22),
    nights: 3,
    toldAt: day(20),
    clearedAt: day(23),
  };
  const again = { ...life, since: day(24), toldAt: day(25), lastAt: day(25), nights: 2 };
  const { clearedAt: _, ...open } = again;
  const lifeOf = findingPasts(pagePast(pastOf([20], { lives: [life, open] }), () => undefined));

  it('tells each of its lives', () => {
    const items = [...(lifeOf('a1b2c3d4e5')?.text ?? '').matchAll(/UTC<\/time> (.*?)<\/li>/g)];
    expect(items.map(([, words]) => words)).toEqual([
      'first seen and told',
      'last seen, 3 nights in a row; broken: carries at most 1500 of 9000 bytes',
      'cleared',
      'first seen',
      'told',
      'last seen, 2 nights in a row; broken: carries at most 1500 of 9000 bytes',
    ]);
  });

  it('is nothing of one that the history has not', () => {
    expect(lifeOf('0000000000')).toBeUndefined();
  });
});
