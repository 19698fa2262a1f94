import { describe, expect, it } from 'vitest';
import { rehearse } from '../../src/change/rehearse.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Survey } from '../../src/facts/survey.ts';
import { foldRemarks } from '../../src/report/fold-remarks.ts';
import { gapSentences } from '../../src/report/procedure-gaps.ts';
import { planned, twoSwitches } from './two-switches.ts';

const now = '2026-11-25T02:00:00.000Z';
const uplink = 'quay-sw:xg8 - loft-sw:xg1';

/** A site of two switches; `auditor` is the machine that hopgauge runs on. */
function siteOf(auditor?: string) {
  const local = { access: [{ name: 'local' as const, via: 'local' as const }] };
  return twoSwitches({
    ...{ hosts: 9000, switches: 9216, declared: 9000 },
    intent: auditor === undefined ? {} : { nodes: { [auditor]: local } },
  });
}

/** quay-sw with one port more. */
function withPort({ nodes, ...rest }: Survey, facts: PortReadFacts): Survey {
  return {
    ...rest,
    nodes: nodes.map((node) =>
      node.node === 'quay-sw'
        ? { ...node, ports: [...node.ports, { name: 'xg9', facts: { mtuBytes: 9216, ...facts } }] }
        : node,
    ),
  };
}

function told(text: string, { intent, survey }: ReturnType<typeof siteOf>) {
  return rehearse({ intent, survey, policies: [], now }, planned(text, intent, survey));
}

const lost = (text: string, site: ReturnType<typeof siteOf>) =>
  told(text, site).remarks.flatMap(({ kind, on, what }) =>
    kind === 'impossible' && what.startsWith('cannot be reached once the change is made')
      ? [on]
      : [],
  );

describe('what the machine that hopgauge runs on reaches after a change', () => {
  const away = `links: { "${uplink}": { remove: true } }`;

  it('is nothing behind a cord that is taken away', () => {
    expect(lost(away, siteOf('plot-1')).toSorted()).toEqual(['loft-sw', 'store', 'vault']);
    expect(lost(away, siteOf('vault')).toSorted()).toEqual([
      ...['gate', 'plot-1', 'quay-sw', 'tablet'],
    ]);
  });

  it('is not known where that machine is not declared', () => {
    const { remarks } = told(away, siteOf());
    expect(remarks.filter(({ kind }) => kind === 'impossible')).toEqual([]);
    expect(remarks.map(({ what }) => what).join()).toContain(
      'on which machine hopgauge runs is not declared',
    );
  });

  it.each([
    ['lacks the VLAN', { untaggedVlan: 1, untaggedVlans: [1], taggedVlans: [] }, true],
    ['carries the VLAN', { untaggedVlan: 20, untaggedVlans: [20], taggedVlans: [] }, false],
    ['has a membership that was not read', {}, false],
  ] as const)('is nothing once its own cord is in a port that %s', (_, facts, isLost) => {
    const site = siteOf('plot-1');
    const survey = withPort(site.survey, { ...facts });
    const move = 'links: { "plot-1:en7 - quay-sw:xg2": { move: "plot-1:en7 - quay-sw:xg9" } }';
    expect(lost(move, { ...site, survey }).toSorted()).toEqual(
      isLost ? ['gate', 'loft-sw', 'quay-sw', 'store', 'tablet', 'vault'] : [],
    );
  });

  it('stays whole where a member of an aggregate is left', () => {
    expect(
      lost('links: { "loft-sw:xg3 - vault:eth4": { remove: true } }', siteOf('plot-1')),
    ).toEqual([]);
  });

  it('is told of all in one line, with the step', () => {
    const [remark] = foldRemarks(told(away, siteOf('plot-1')).remarks);
    expect(remark).toMatchObject({
      on: expect.stringMatching(/^[a-z-]+, [a-z-]+ and [a-z-]+$/),
      what: 'cannot be reached once the change is made: from step 1 on no declared link that is up and carries its VLAN leads there from plot-1, where hopgauge runs',
      remedy: 'make another way in before the change, and declare its address; or take step 1 out',
    });
  });
});

describe('the procedure of a cord that is taken away', () => {
  it('says that its link does not come back, and not that it is down for a moment', () => {
    const { order, start } = told(`links: { "${uplink}": { remove: true } }`, siteOf());
    const sentences = order === undefined ? [] : gapSentences(order, start);
    expect(sentences).toContain('Step 1 takes a cord away: its link does not come back by itself.');
    expect(sentences.join(' ')).not.toContain('for a moment');
  });
});
