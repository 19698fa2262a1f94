import { describe, expect, it } from 'vitest';
import { exactOrder } from '../../src/change/exact-order.ts';
import { greedyOrder } from '../../src/change/greedy-order.ts';
import { orderModel } from '../../src/change/order-model.ts';
import { rehearse } from '../../src/change/rehearse.ts';
import { weighCosts } from '../../src/change/state-cost.ts';
import { loadShipped } from '../judge/shipped.ts';
import { planned, twoSwitches } from './two-switches.ts';

const low = () => twoSwitches({ hosts: 1500, switches: 1518, declared: 1500 });
const high = () => twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 });
const raise = 'segments: { storage: { mtu: 9000 } }';
const lower = `segments: { storage: { mtu: 1500 } }
ports:
  plot-1:en7: { mtu: 1500 }
  vault:bond0: { mtu: 1500 }
  store:br20: { mtu: 1500 }
  store:eno1.20: { mtu: 1500 }
  store:eno1: { mtu: 1500 }
  gate:em0: { mtu: 1500 }
  quay-sw:xg2: { mtu: 1522 }
  quay-sw:xg7: { mtu: 1522 }
  quay-sw:xg8: { mtu: 1522 }
  loft-sw:xg1: { mtu: 1522 }
  loft-sw:xg3: { mtu: 1522 }
`;
const now = '2026-11-25T02:00:00.000Z';

function run(text: string, { intent, survey }: ReturnType<typeof low>) {
  return rehearse({ intent, survey, policies: [], now }, planned(text, intent, survey));
}

const isSwitch = (id: string) => /^mtu \w+-sw:/.test(id);

// Common practice: larger packets are allowed from the switches to the hosts, smaller ones the
// other way round. No rule of the code says so.
describe.each([
  ['all orders looked at', exactOrder],
  ['step by step', greedyOrder],
])('the order of steps, %s', (_, orderOf) => {
  const ordered = (text: string, site: ReturnType<typeof low>) => {
    const plan = planned(text, site.intent, site.survey);
    return orderOf(orderModel(plan.intent, site.survey, plan));
  };

  it('raises every switch on a path before its hosts, and lower layers first', () => {
    const order = ordered(raise, low());
    const ids = order?.steps.map(({ id }) => id) ?? [];
    expect([...ids].sort()).toEqual([
      'mtu gate:em0',
      'mtu loft-sw:xg1',
      'mtu loft-sw:xg3',
      'mtu loft-sw:xg4',
      'mtu loft-sw:xg5',
      'mtu plot-1:en7',
      'mtu quay-sw:xg2',
      'mtu quay-sw:xg6',
      'mtu quay-sw:xg7',
      'mtu quay-sw:xg8',
      'mtu store:eno1',
      'mtu store:eno1.20',
      'mtu store:tap0',
      'mtu vault:bond0',
    ]);
    const at = (id: string) => ids.indexOf(`mtu ${id}`);
    for (const port of ['loft-sw:xg1', 'loft-sw:xg3', 'loft-sw:xg4', 'quay-sw:xg8'])
      expect(at(port)).toBeLessThan(at('vault:bond0'));
    expect(at('quay-sw:xg2')).toBeLessThan(at('plot-1:en7'));
    expect(at('quay-sw:xg7')).toBeLessThan(at('gate:em0'));
    expect(at('store:eno1')).toBeLessThan(at('store:eno1.20'));
    expect(weighCosts(order?.costs ?? []).worst.pathsCut).toBe(0);
  });

  it('lowers every host before the switches on its paths', () => {
    const order = ordered(lower, high());
    const ids = order?.steps.map(({ id }) => id) ?? [];
    expect(ids).toHaveLength(11);
    const lastOf = (hosts: readonly string[]) =>
      Math.max(...hosts.map((host) => ids.indexOf(`mtu ${host}`)));
    const firstUplink = Math.min(ids.indexOf('mtu quay-sw:xg8'), ids.indexOf('mtu loft-sw:xg1'));
    expect(lastOf(['plot-1:en7', 'vault:bond0'])).toBeLessThan(firstUplink);
    expect(ids.indexOf('mtu quay-sw:xg2')).toBeGreaterThan(lastOf(['plot-1:en7', 'vault:bond0']));
    expect(ids.findLastIndex((id) => !isSwitch(id))).toBeLessThan(ids.length);
    expect(weighCosts(order?.costs ?? []).worst.pathsCut).toBe(0);
  });

  it('is worse the other way round', () => {
    const site = low();
    const plan = planned(raise, site.intent, site.survey);
    const hosts = plan.steps.filter(({ id }) => !isSwitch(id));
    const before = { ...plan, steps: plan.steps.filter(({ id }) => id !== 'mtu quay-sw:xg8') };
    const order = orderOf(orderModel(plan.intent, site.survey, before));
    expect(hosts.length).toBeGreaterThan(3);
    expect(order?.costs.at(-1)?.pathsCut).toBeGreaterThan(0);
    expect(order?.bound.pathsCut).toBeGreaterThan(0);
  });
});

describe('what a change leaves', () => {
  it('names the Wi-Fi client that cannot follow, and every way in that a step touches', () => {
    const { remarks } = run(raise, low());
    expect(remarks.map(({ kind, on }) => `${kind} ${on}`)).toEqual([
      'impossible tablet:wlan0',
      'caution gate:em0',
      'caution plot-1:en7',
      'caution store:eno1',
      'caution vault:bond0',
      'caution store:br20',
      'caution loft-sw, quay-sw',
    ]);
    expect(remarks[0]?.what).toBe(
      'cannot carry 9000: it is a Wi-Fi port, and no setting gives Wi-Fi packets above 1500 bytes',
    );
    expect(remarks.find(({ on }) => on === 'vault:bond0')?.what).toBe(
      'carries the address by which its node is read: a step there takes your own way in down for a moment, and with a wrong value short answers still come, and long ones may hang',
    );
  });

  it('says that a bridge may have been set by hand, which nobody can read', () => {
    const told = run(raise, low()).remarks.filter(({ on }) => on === 'store:br20');
    expect(told).toEqual([
      {
        kind: 'caution',
        on: 'store:br20',
        what: 'is taken to follow store:eno1.20, as a bridge of Linux does until its own MTU is set by hand; whether it was is not shown anywhere',
        remedy: 'look at it right after that step, and set it where it did not follow',
      },
    ]);
    const other = (kind: string | undefined) => {
      const { intent, survey } = low();
      const nodes = survey.nodes.map((node) => ({
        ...node,
        facts: kind === undefined ? {} : { systemKind: kind },
      }));
      return run(raise, { intent, survey: { ...survey, nodes } }).remarks;
    };
    for (const kind of ['freebsd', undefined])
      expect(other(kind).find(({ on }) => on === 'store:br20')?.kind).toBe('unknown');
    // What is set by a step of its own follows nothing.
    const set = run(lower, high()).remarks.filter(({ on }) => on === 'store:br20');
    expect(set).toEqual([]);
  });

  it('names what a list forgets: a bridge member, the uplink, the gateway', () => {
    const list = `${raise}
ports:
  plot-1:en7: { mtu: 9000 }
  vault:bond0: { mtu: 9000 }
  store:eno1: { mtu: 9000 }
  store:eno1.20: { mtu: 9000 }
  quay-sw:xg2: { mtu: 9216 }
  quay-sw:xg6: { mtu: 9216 }
  quay-sw:xg7: { mtu: 9216 }
  loft-sw:xg1: { mtu: 9216 }
  loft-sw:xg3: { mtu: 9216 }
  loft-sw:xg4: { mtu: 9216 }
  loft-sw:xg5: { mtu: 9216 }
`;
    const { remarks, order } = run(list, low());
    const forgotten = remarks.filter(({ kind }) => kind === 'forgotten');
    expect(forgotten.map(({ on, what }) => `${on} ${what}`)).toEqual([
      'gate:em0 stays at 1500: it is the port of a gateway, and segment storage needs 9000 there',
      'quay-sw:xg8 stays at 1518: it is an uplink between switches, and segment storage needs 9022 there',
      'store:tap0 stays at 1500: it is a member of the bridge store:br20, and segment storage needs 9000 there',
    ]);
    // plot-1 and vault are both raised, and the uplink between them is not.
    expect(order?.bound.pathsCut).toBeGreaterThan(0);
  });

  it('refuses what a driver cannot do, on a member of a bond as well', () => {
    const site = twoSwitches({
      hosts: 1500,
      switches: 9216,
      declared: 1500,
      eth4: { mtuMaxBytes: 4082 },
    });
    const { remarks, order } = run(raise, site);
    expect(remarks.find(({ on }) => on === 'vault:bond0')).toEqual({
      kind: 'impossible',
      on: 'vault:bond0',
      what: 'cannot be set to 9000: the driver of its member vault:eth4 accepts at most 4082',
      remedy: 'declare at most 4082 for its segment, or use another adapter or driver',
    });
    expect(order?.steps.map(({ id }) => id)).not.toContain('mtu vault:bond0');
  });

  it('refuses a VLAN interface above what it stands on', () => {
    const text = `${raise}\nports: { "store:eno1.20": { mtu: 9000 } }`;
    expect(run(text, low()).remarks.find(({ on }) => on === 'store:eno1.20')).toMatchObject({
      kind: 'impossible',
      on: 'store:eno1.20',
      what: 'cannot be set to 9000: it stands on store:eno1, which stays at 1500, and the system refuses a VLAN interface above what it stands on',
    });
  });

  it('refuses a speed that a port cannot do or a run does not reach', () => {
    const site = twoSwitches({ hosts: 1500, switches: 9216, declared: 1500 });
    const nodes = site.survey.nodes.map((node) => ({
      ...node,
      ports: node.ports.map((port) =>
        port.name === 'en7'
          ? { ...port, facts: { ...port.facts, supportedModes: ['1000baseT/Full'] } }
          : port,
      ),
    }));
    const survey = { ...site.survey, nodes };
    const text = 'links: { "plot-1:en7 - quay-sw:xg2": { speed: 2.5G } }';
    const { remarks } = run(text, { intent: site.intent, survey });
    expect(remarks.find(({ kind }) => kind === 'impossible')).toMatchObject({
      on: 'plot-1:en7',
      what: 'cannot run at 2500 Mb/s: it can do 1000 Mb/s',
    });
  });

  it('compares the verdicts before and after by the rules in force', async () => {
    const { intent, survey } = twoSwitches({ hosts: 1500, switches: 1518, declared: 9000 });
    const plan = planned(raise, intent, survey);
    const policies = await loadShipped('essential', 'jumbo');
    const told = rehearse({ intent, survey, policies, now }, plan);
    const ids = (findings: typeof told.fixed) =>
      findings
        .filter(({ rule }) => rule === 'path-clearance')
        .map(({ subject }) => subject.id)
        .sort();
    expect(ids(told.fixed)).toEqual(['copies', 'plotting']);
    expect(ids(told.broken)).toEqual([]);
    expect(ids(told.standing)).toEqual([]);
  });
});
