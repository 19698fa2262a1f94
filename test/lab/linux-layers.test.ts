import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readHost } from '../../src/collect/read-host.ts';
import { scriptFor } from '../../src/collect/script-for.ts';
import { defaultReadLimits, type NodeReading, type RunScript } from '../../src/collect/types.ts';
import { parseJson } from '../../src/facts/json.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { everyTopic } from '../../src/facts/read-topics.ts';
import { ipByHand, sysfsByHand } from './harness/by-hand.ts';
import { projectRoot } from './harness/cli.ts';
import { type Lab, settle, startLab, stopLab } from './harness/lab.ts';
import { inNs, mustInNs } from './harness/namespaces.ts';
import { planFor } from './harness/plan.ts';

let lab: Lab;
beforeAll(async () => {
  lab = await startLab(planFor({ secondWay: true, hostBridgeOn: ['vault'] }));
  await settle(lab);
});
afterAll(() => stopLab(lab));

type Row = Readonly<Record<string, unknown>>;

/** What `bridge` of iproute2 prints, one record per station. */
async function stationsByHand(node: string): Promise<readonly Row[]> {
  const machine = lab.machine(node);
  return parseJson(await mustInNs(machine, ['bridge', '-j', 'fdb', 'show'])) as readonly Row[];
}

describe.each([['quay'], ['loft'], ['vault']])(
  'the bridge of %s, against ip and bridge',
  (node) => {
    it('has its members in the state of spanning tree that the kernel says', async () => {
      const reading = await read(node);
      const links = await ipByHand(lab.machine(node), ['-d', 'link']);
      const members = links.filter(({ master }) => master === 'br0');
      expect(members.length).toBeGreaterThan(0);
      const byHand = members.map(({ ifname, linkinfo }) => [
        ifname,
        ((linkinfo as Row)['info_slave_data'] as Row)['state'],
      ]);
      const told = reading.ports.flatMap(({ name, facts }) =>
        facts.spanningTree === undefined ? [] : [[name, facts.spanningTree]],
      );
      expect(Object.fromEntries(told)).toEqual(Object.fromEntries(byHand));
      const blocked = lab.plan.blocked.filter(([name]) => name === node);
      expect(told.filter(([, state]) => state === 'blocking').map(([name]) => name)).toEqual(
        blocked.map(([, port]) => port),
      );
    });

    it('has heard the stations that bridge names, and none of its own', async () => {
      const before = await stationsByHand(node);
      const { forwarding = [] } = await read(node);
      const after = await stationsByHand(node);
      const learnt = (rows: readonly Row[]) =>
        rows.flatMap(({ mac, ifname, master, state, flags }) =>
          master === 'br0' &&
          state !== 'permanent' &&
          !(flags as readonly string[]).includes('self')
            ? [`${ifname} ${mac}`]
            : [],
        );
      const told = forwarding.flatMap(({ port, macs }) => macs.map((mac) => `${port} ${mac}`));
      expect(told.length).toBeGreaterThan(0);
      for (const station of told) expect([...learnt(before), ...learnt(after)]).toContain(station);
      const stayed = learnt(before).filter((station) => learnt(after).includes(station));
      expect(told).toEqual(expect.arrayContaining(stayed));
    });

    it('does not tell VLANs apart, and says so', async () => {
      const reading = await read(node);
      const file = await sysfsByHand(lab.machine(node), 'br0', 'bridge/vlan_filtering');
      // A kernel that was built without VLANs in bridges has no such file.
      const words =
        file === '0'
          ? 'its bridge does not tell VLANs apart'
          : 'the system does not say whether its bridge tells VLANs apart';
      const links = await ipByHand(lab.machine(node), ['-d', 'link']);
      for (const { ifname, master } of links) {
        if (master !== 'br0') continue;
        const gap = gapOf(reading, String(ifname), 'untaggedVlan');
        expect(['its bridge does not tell VLANs apart', words]).toContain(gap?.words);
        expect(gap?.reason).toBe('unsupported');
      }
    });
  },
);

describe('a host with other tools', () => {
  const facts = [
    ...(['kind', 'mtuBytes', 'macAddress', 'adminUp', 'operUp', 'ifIndex', 'lowerPorts'] as const),
    ...(['addresses', 'spanningTree', 'carrierChanges'] as const),
  ] as const satisfies readonly (keyof PortReadFacts)[];
  const told = (reading: NodeReading) => ({
    ports: reading.ports.map(
      ({ name, facts: read }) => [name, facts.map((fact): unknown => read[fact])] as const,
    ),
    // Releases differ in whether they keep link-local and multicast rows in the table.
    routes: (reading.routeTable ?? []).filter(({ prefix }) => /^[\d.]+\/\d+$/.test(prefix)),
  });
  const busybox = '/bin/busybox';
  const nothing = '/etc/hostname';
  const kinds: readonly (readonly [name: string, over: Readonly<Record<string, string>>])[] = [
    ['BusyBox has the only ip', { ip: busybox }],
    ['there is no ip, but ifconfig and route of net-tools', { ip: nothing }],
    [
      'there is no ip, but ifconfig and route of BusyBox',
      { ip: nothing, ifconfig: busybox, route: busybox },
    ],
    ['there is no ip and no route, but ifconfig', { ip: nothing, route: nothing }],
    ['there is no ip, and /sys alone tells', { ip: nothing, ifconfig: nothing, route: nothing }],
  ];

  it.each(kinds)('tells the same where %s', async (_name, over) => {
    const machine = lab.machine('vault');
    const usual = told(await read('vault'));
    expect(usual.routes.length).toBeGreaterThan(1);
    const programs = Object.entries(over);
    for (const [program, by] of programs) {
      await mustInNs(machine, ['mount', '--bind', by, await pathOf(program)]);
    }
    try {
      const other = told(await read('vault'));
      expect(other.routes).toEqual(usual.routes);
      const silent = over['ifconfig'] === nothing ? facts.indexOf('addresses') : -1;
      for (const [name, values] of usual.ports) {
        const seen = new Map(other.ports).get(name);
        expect([name, seen?.filter((_, at) => at !== silent)]).toEqual([
          name,
          values.filter((_, at) => at !== silent),
        ]);
      }
    } finally {
      for (const [program] of programs) await mustInNs(machine, ['umount', await pathOf(program)]);
    }
  });

  async function pathOf(program: string): Promise<string> {
    const argv = ['sh', '-c', 'PATH=$PATH:/usr/sbin:/sbin; readlink -f "$(command -v "$1")"', 'sh'];
    return (await mustInNs(lab.machine('vault'), [...argv, program])).trim();
  }

  it('tells of a bond with LACP as ip prints it', async () => {
    const machine = lab.machine('vault');
    const name = join(projectRoot, 'test/collect/unix/recorded/ip-link-layers.json.txt');
    const lines = readFileSync(name, 'utf8').split('\n').slice(1);
    // No alias and no address in it holds an apostrophe.
    const stub = `#!/bin/sh\ncase $* in '-j -d link') printf '%s\\n' '${lines.join('')}' ;; *) exit 1 ;; esac\n`;
    const argv = [
      'sh',
      '-ec',
      'cat >/run/stub; chmod 755 /run/stub; mount --bind /run/stub "$(readlink -f /sbin/ip)"',
    ];
    await mustInNs(machine, argv, { input: stub });
    try {
      const reading = await read('vault');
      const eth4 = reading.ports.find(({ name }) => name === 'eth4');
      expect(eth4?.facts).toMatchObject({
        aggregate: 'bond0',
        aggregatorId: 1,
        lacpActor: ['activity', 'aggregation', 'synchronization', 'collecting', 'distributing'],
        lacpPartnerSystem: '02:00:5e:00:00:30',
      });
      const kinds = reading.ports.map(({ name, facts: read }) => [name, read.kind]);
      expect(Object.fromEntries(kinds)).toMatchObject({
        bond0: 'bond',
        br0: 'bridge',
        vx7: 'tunnel',
        gt0: 'tunnel',
      });
    } finally {
      await mustInNs(machine, ['sh', '-ec', 'umount "$(readlink -f /sbin/ip)"']);
    }
  });
});

async function read(node: string): Promise<NodeReading> {
  const run: RunScript = async (script) => {
    const ran = await inNs(lab.machine(node), ['sh', '-s'], { input: scriptFor(script, 'sh') });
    expect(ran.stderr).toBe('');
    return { ok: true, output: Buffer.from(ran.stdout, 'utf8') };
  };
  const request = { peers: [], topics: everyTopic };
  const { signal } = new AbortController();
  const outcome = await readHost(run, request, defaultReadLimits, signal);
  if (!outcome.ok) throw new Error(`lab: ${node}: ${outcome.trouble.seen}`);
  return outcome.reading;
}

function gapOf(reading: NodeReading, port: string, fact: string) {
  const found = reading.ports.find(({ name }) => name === port);
  return found?.gaps?.[fact] ?? reading.portGaps[fact];
}
