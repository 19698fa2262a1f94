import { describe, expect, it } from 'vitest';
import { pathStates, stateAfter } from '../../src/change/foretell.ts';
import { loadChange } from '../../src/change/load-change.ts';
import { orderModel } from '../../src/change/order-model.ts';
import { orderSteps } from '../../src/change/order-steps.ts';
import { planChange } from '../../src/change/plan-change.ts';
import { rehearse } from '../../src/change/rehearse.ts';
import { askedByIntent } from '../../src/change/second-intent.ts';
import { factsOfTheLink } from '../../src/change/unplug.ts';
import { portReadFacts } from '../../src/facts/port-facts.ts';
import type { Intent } from '../../src/intent/types.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { loadShipped } from '../judge/shipped.ts';
import { planned, twoSwitches } from './two-switches.ts';

const site = () => twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 });
const now = '2026-11-25T02:00:00.000Z';
const uplink = 'quay-sw:xg8 - loft-sw:xg1';

function run(text: string, { intent, survey }: ReturnType<typeof site>) {
  return rehearse({ intent, survey, policies: [], now }, planned(text, intent, survey));
}

function faultsOf(text: string): string[] {
  const loaded = loadChange(`change: 1\n${text}`, 'change.yaml', site().intent);
  return loaded.ok ? [] : loaded.faults.map(({ what, place }) => `${place.line}: ${what}`);
}

describe('a moved cord', () => {
  const text = `links: { "${uplink}": { move: "quay-sw:xg6 - loft-sw:xg1" } }`;

  it('is one step, told from the end at which it stays', () => {
    const free = site();
    const intent = withoutLink(free.intent, 'quay-sw:xg6 - tablet:wlan0');
    const [step] = planned(text, intent, free.survey).steps;
    expect(step).toMatchObject({
      ...{ id: 'link loft-sw:xg1', node: 'loft-sw', setting: 'link' },
      ...{ from: 'quay-sw:xg8', to: 'quay-sw:xg6', disturbs: 'link-moved' },
    });
    const told = run(text, { ...free, intent });
    expect(told.advice[0]?.words).toBe(
      'move the cord of loft-sw:xg1 from quay-sw:xg8 to quay-sw:xg6',
    );
    expect(told.order?.costs.at(-1)?.pathsApart).toBe(0);
  });

  it('leaves nothing known of the link at its new place, and all known of its ports', () => {
    const free = site();
    const intent = withoutLink(free.intent, 'quay-sw:xg6 - tablet:wlan0');
    const plan = planned(text, intent, free.survey);
    const after = stateAfter(plan, free.survey, plan.steps);
    const quay = after.survey.nodes.find(({ node }) => node === 'quay-sw');
    const facts = (name: string) => quay?.ports.find((port) => port.name === name)?.facts;
    expect(facts('xg8')).toEqual({
      ...{ adminUp: true, kind: 'physical', mtuBytes: 9216 },
      operUp: false,
    });
    expect(facts('xg6')).toEqual({ adminUp: true, kind: 'physical', mtuBytes: 9216 });
    expect(facts('xg2')).toMatchObject({ operUp: true, speedMbps: 10_000 });
    expect(quay?.ports.find(({ name }) => name === 'xg6')?.gaps?.['speedMbps']?.words).toBe(
      'known only once the cord is in its new place',
    );
    expect(quay?.gaps['forwarding']?.words).toBe('known only once the cord is in its new place');
    const ids = after.intent.links.map(({ id }) => id);
    expect(ids).toContain('quay-sw:xg6 - loft-sw:xg1');
    expect(ids).not.toContain(uplink);
  });

  it('to a smaller port loses large packets, and the order says so', async () => {
    const free = site();
    const intent = withoutLink(free.intent, 'quay-sw:xg6 - tablet:wlan0');
    const nodes = free.survey.nodes.map((node) =>
      node.node === 'quay-sw'
        ? {
            ...node,
            ports: node.ports.map((port) =>
              port.name === 'xg6' ? { ...port, facts: { ...port.facts, mtuBytes: 1518 } } : port,
            ),
          }
        : node,
    );
    const survey = { ...free.survey, nodes };
    const policies = await loadShipped('essential', 'jumbo');
    const told = rehearse({ intent, survey, policies, now }, planned(text, intent, survey));
    expect(told.order?.costs).toMatchObject([{ pathsApart: 0, pathsCut: 1 }]);
    const broken = told.broken.map(({ rule, subject }) => `${rule} ${subject.id}`);
    expect(broken).toContain('path-clearance plotting');
    expect(told.unknown.map(({ subject }) => subject.id)).toContain('quay-sw:xg6 - loft-sw:xg1');
  });

  it('waits for the cord that is in its port; of two that change places one is taken out first', () => {
    const both = `links:
  "plot-1:en7 - quay-sw:xg2": { move: "plot-1:en7 - quay-sw:xg7" }
  "quay-sw:xg7 - gate:em0": { move: "quay-sw:xg9 - gate:em0" }`;
    const free = site();
    const nodes = free.survey.nodes.map((node) =>
      node.node === 'quay-sw'
        ? { ...node, ports: [...node.ports, { name: 'xg9', facts: { mtuBytes: 9216 } }] }
        : node,
    );
    const survey = { ...free.survey, nodes };
    expect(run(both, { ...free, survey }).order?.steps.map(({ id }) => id)).toEqual([
      'link gate:em0',
      'link plot-1:en7',
    ]);
    const swapped = `links:
  "plot-1:en7 - quay-sw:xg2": { move: "plot-1:en7 - quay-sw:xg7" }
  "quay-sw:xg7 - gate:em0": { move: "quay-sw:xg2 - gate:em0" }`;
    const told = run(swapped, free);
    expect(told.order?.steps.map(({ id, from, to }) => [id, from, to])).toEqual([
      ['link gate:em0 taken out', 'quay-sw:xg7', 'no port'],
      ['link plot-1:en7', 'quay-sw:xg2', 'quay-sw:xg7'],
      ['link gate:em0', 'no port', 'quay-sw:xg2'],
    ]);
    expect(told.remarks.filter(({ kind }) => kind === 'impossible')).toEqual([]);
    expect(told.advice.map(({ words }) => words)).toEqual([
      'take the cord between gate:em0 and quay-sw:xg7 away',
      'move the cord of plot-1:en7 from quay-sw:xg2 to quay-sw:xg7',
      'lay a cord from gate:em0 to quay-sw:xg2',
    ]);
  });

  it('of two circles is taken out once in each, and three in a ring open with one', () => {
    const free = site();
    const ring = `links:
  "plot-1:en7 - quay-sw:xg2": { move: "plot-1:en7 - quay-sw:xg7" }
  "quay-sw:xg7 - gate:em0": { move: "quay-sw:xg6 - gate:em0" }
  "quay-sw:xg6 - tablet:wlan0": { move: "quay-sw:xg2 - tablet:wlan0" }
  "loft-sw:xg3 - vault:eth4": { move: "loft-sw:xg4 - vault:eth4" }
  "loft-sw:xg4 - vault:eth5": { move: "loft-sw:xg3 - vault:eth5" }`;
    const ids = planned(ring, free.intent, free.survey).steps.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.filter((id) => id.endsWith('taken out'))).toEqual([
      'link gate:em0 taken out',
      'link vault:eth4 taken out',
    ]);
    const again = planned(ring, free.intent, free.survey).steps.map(({ id }) => id);
    expect(again).toEqual(ids);
    const { order } = run(ring, free);
    expect(order?.steps).toHaveLength(7);
    // In the end every cord is where the change declares it.
    const plan = planned(ring, free.intent, free.survey);
    const { links } = stateAfter(plan, free.survey, plan.steps).intent;
    expect(links.map(({ id }) => id)).toEqual(
      expect.arrayContaining(['quay-sw:xg6 - gate:em0', 'loft-sw:xg3 - vault:eth5']),
    );
    expect(links).toHaveLength(free.intent.links.length);
  });

  it('that is taken away leaves paths apart, for as long as no other way is there', () => {
    const told = run(`links: { "${uplink}": { remove: true } }`, site());
    expect(told.order?.costs).toMatchObject([{ pathsApart: 1, pathsCut: 0 }]);
    expect(told.paths?.after[0]?.map(({ id, joined }) => [id, joined])).toEqual([
      ['plotting', false],
    ]);
    expect(told.advice[0]?.words).toBe('take the cord between quay-sw:xg8 and loft-sw:xg1 away');
  });

  it('cannot come to a port that cannot do the declared speed', () => {
    const free = site();
    const nodes = free.survey.nodes.map((node) =>
      node.node === 'quay-sw'
        ? {
            ...node,
            ports: [
              ...node.ports,
              { name: 'fe1', facts: { mtuBytes: 9216, supportedModes: ['100baseT/Full'] } },
            ],
          }
        : node,
    );
    const survey = { ...free.survey, nodes };
    const moved = 'links: { "plot-1:en7 - quay-sw:xg2": { move: "plot-1:en7 - quay-sw:fe1" } }';
    const told = run(moved, { ...free, survey });
    expect(told.remarks[0]).toMatchObject({
      ...{ kind: 'impossible', on: 'quay-sw:fe1' },
      what: 'cannot run at 10000 Mb/s: it can do 100 Mb/s',
    });
    expect(told.order?.steps).toEqual([]);
  });

  it('is refused where its port is taken, unknown, or where it lies already', () => {
    expect(
      faultsOf('links: { "plot-1:en7 - quay-sw:xg2": { move: "plot-1:en7 - quay-sw:xg7" } }'),
    ).toEqual([expect.stringContaining('the port is already in the link at')]);
    expect(
      faultsOf('links: { "plot-1:en7 - quay-sw:xg2": { move: "quay-sw:xg2 - plot-1:en7" } }'),
    ).toEqual(['2: the cord is there already']);
    expect(faultsOf('links: { "plot-1:en7 - quay-sw:xg2": { move: "plot-1:en7" } }')).toEqual([
      '2: a link has two ends',
    ]);
    expect(
      faultsOf('links: { "plot-1:en7 - quay-sw:xg2": { remove: true, speed: 1G } }'),
    ).toHaveLength(1);
    const made = planChange(
      site().intent,
      site().survey,
      askedText('links: { "plot-1:en7 - quay-sw:xg2": { move: "plot-1:en7 - quay-sw:xg77" } }'),
    );
    expect(made.ok ? [] : made.faults.map(({ what, seen }) => `${what} ${seen}`)).toEqual([
      "quay-sw has no such port 'xg77'",
    ]);
  });

  it('is found in a second intent as well, with what is laid and what leaves', () => {
    const { intent, survey } = site();
    const links = intent.links.flatMap((link) => {
      if (link.id === 'quay-sw:xg7 - gate:em0') return [];
      if (link.id !== uplink) return [link];
      const [near, far] = link.ends;
      return [
        {
          ...link,
          id: 'quay-sw:xg7 - loft-sw:xg1',
          ends: [{ ...near, port: 'xg7' }, far] as const,
        },
      ];
    });
    const nodes = intent.nodes.filter(({ name }) => name !== 'gate');
    const after: Intent = { ...intent, links, nodes };
    const made = planChange(intent, survey, askedByIntent(intent, after));
    if (!made.ok) throw new Error(JSON.stringify(made.faults));
    const { steps } = made.value;
    const order = orderSteps(orderModel(made.value.intent, survey, made.value));
    expect(order?.steps.map(({ id, from, to }) => [id, from, to])).toEqual([
      ['link quay-sw:xg7', 'gate:em0', 'no port'],
      ['link loft-sw:xg1', 'quay-sw:xg8', 'quay-sw:xg7'],
    ]);
    const end = stateAfter(made.value, survey, steps).intent;
    expect(end.links.map(({ id }) => id).sort()).toEqual(links.map(({ id }) => id).sort());
    expect(end.nodes.map(({ name }) => name)).toEqual(nodes.map(({ name }) => name));
    expect(made.value.intent.nodes.map(({ name }) => name)).toContain('gate');
  });

  it('is one of many only in its turn', () => {
    const { intent, survey } = site();
    const moves = intent.links
      .slice(0, 6)
      .map(({ id }) => `  "${id}": { remove: true }`)
      .join('\n');
    const plan = planned(`links:\n${moves}`, intent, survey);
    const order = orderSteps(orderModel(intent, survey, plan));
    expect(order?.steps).toHaveLength(6);
    const end = stateAfter(plan, survey, plan.steps);
    const paths = pathStates(buildSite(end.intent, end.survey, { strict: false }));
    // Ends that lose their only cord are joined by nothing, although no declared link parts them.
    expect(paths.filter(({ joined }) => !joined)).toHaveLength(2);
    expect(order?.costs.at(-1)?.pathsApart).toBe(2);
  });

  it('takes with it what a survey says of a link, by names that surveys have', () => {
    for (const name of factsOfTheLink) expect(portReadFacts).toHaveProperty(name);
  });
});

describe('a replaced switch', () => {
  it('is a step before what is set on it, and its ports pass what comes with it', () => {
    const low = twoSwitches({ hosts: 1500, switches: 1518, declared: 1500 });
    const text = `segments: { storage: { mtu: 9000 } }
nodes: { quay-sw: { replace: { by: "the spare of the shelf", mtu: 1518, mtuMax: 9216 } } }`;
    const told = run(text, low);
    const ids = told.order?.steps.map(({ id }) => id) ?? [];
    const quay = ids.filter((id) => id.includes('quay-sw'));
    expect(quay[0]).toBe('node quay-sw');
    expect(quay).toContain('mtu quay-sw:xg8');
    expect(told.order?.steps.find(({ id }) => id === 'node quay-sw')?.disturbs).toBe('node-out');
    expect(told.order?.costs.at(-1)).toMatchObject({ pathsApart: 0, pathsCut: 0 });
    const at = ids.indexOf('node quay-sw');
    expect(told.order?.costs[at]?.bounces).toBe(4);
    expect(told.advice[at]?.words).toContain('put the spare of the shelf in the place of quay-sw');
  });

  it('that comes with small frames cuts the paths over it, until it is set', () => {
    const told = run(
      'nodes: { quay-sw: { replace: { by: "the spare of the shelf", mtu: 1518 } } }',
      site(),
    );
    expect(told.order?.costs).toMatchObject([{ pathsCut: 1 }]);
    expect(told.remarks.filter(({ kind }) => kind === 'caution').map(({ on }) => on)).toContain(
      'quay-sw',
    );
  });

  it('cannot be set to more than it takes', () => {
    const told = run(
      `nodes: { quay-sw: { mtu: 9216, replace: { by: "the old one of the attic", mtu: 1518, mtuMax: 2000 } } }`,
      site(),
    );
    expect(told.remarks.find(({ kind }) => kind === 'impossible')).toMatchObject({
      on: 'quay-sw',
      what: 'cannot be set to 9216: the old one of the attic, which is put in its place, takes at most 2000',
    });
  });

  it('of which nothing is said leaves what passes unknown, and never as good', () => {
    const { intent, survey } = site();
    const told = run('nodes: { quay-sw: { replace: { by: "another" } } }', { intent, survey });
    const after = told.paths?.after[0]?.find(({ id }) => id === 'plotting');
    expect(after?.atLeastBytes).toBeUndefined();
    expect(told.remarks.filter(({ kind }) => kind === 'unknown').map(({ on }) => on)).toContain(
      'quay-sw',
    );
  });

  it('is told from a second intent that expects another identity', () => {
    const { intent, survey } = site();
    const withId = (engineId: string): Intent => ({
      ...intent,
      nodes: intent.nodes.map((node) =>
        node.name === 'loft-sw' ? { ...node, identity: { engineId } } : node,
      ),
    });
    const made = planChange(
      withId('80000001'),
      survey,
      askedByIntent(withId('80000001'), withId('80000002')),
    );
    expect(made.ok && made.value.steps.map(({ id, disturbs }) => [id, disturbs])).toEqual([
      ['node loft-sw', 'node-out'],
    ]);
  });

  it('is no host', () => {
    expect(faultsOf('nodes: { vault: { replace: { by: "another" } } }')).toEqual([
      '2: a host is not replaced as a whole',
    ]);
  });
});

function withoutLink(intent: Intent, id: string): Intent {
  return { ...intent, links: intent.links.filter((link) => link.id !== id) };
}

function askedText(text: string) {
  const loaded = loadChange(`change: 1\n${text}`, 'change.yaml', site().intent);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
  return loaded.value;
}
