import { describe, expect, it } from 'vitest';
import type { Gap } from '../../src/facts/gap.ts';
import { type CauseGroup, causeGroups } from '../../src/report/cause-groups.ts';
import { unseenThings } from '../../src/report/unseen-lines.ts';
import type { Site } from '../../src/site/types.ts';
import { middleSmall } from './saltmarsh.ts';

const { site } = middleSmall;

function unjudged(fact: string, gap: Gap, cause = 'own'): readonly CauseGroup[] {
  const [base] = middleSmall.judgement.findings;
  if (base === undefined) throw new Error('no finding to copy');
  const subject = { kind: 'port', id: 'vault:eth4' } as const;
  return causeGroups([
    { ...base, cause, subject, rule: 'own', verdict: 'undetermined', evidence: [{ fact, gap }] },
  ]);
}

describe('what could not be seen', () => {
  const doubtful = { reason: 'doubtful', words: '10000, of a virtual port' } as const;
  const rows: readonly (readonly [string, string, string])[] = [
    [
      'an MTU that is not believed asks for what it counts',
      'port.mtuBytes',
      'say mtuCounts or believe: [mtu] of the node in the intent, or measure with hopgauge fit',
    ],
    [
      'a speed that is not believed does not speak of the MTU',
      'port.speedMbps',
      'look at the port itself; a rule of your own can leave such ports out with `when`',
    ],
  ];
  for (const [name, fact, remedy] of rows) {
    it(name, () => {
      const [thing] = unseenThings(unjudged(fact, doubtful), site);
      expect(thing?.why).toBe('10000, of a virtual port');
      expect(thing?.remedy).toBe(remedy);
    });
  }

  it('says of a node that joined the intent after the survey that it was not read', () => {
    const [first, ...rest] = site.nodes;
    if (first === undefined) throw new Error('no node');
    const { survey: _gone, ...absent } = first;
    const later: Site = { ...site, nodes: [absent, ...rest] };
    const name = first.declared.name;
    const gap = { reason: 'unasked', words: 'it is not in the survey' } as const;
    const [thing] = unseenThings(unjudged('node.read', gap, `node ${name}`), later);
    expect(thing?.title).toBe(`${name}: not read`);
    expect(thing?.why).toBe('it is not in the survey');
    expect(thing?.remedy).toBe(
      'save a new survey with hopgauge survey --out FILE, or audit without --survey',
    );
  });
});
