import { describe, expect, it } from 'vitest';
import type { Intent } from '../../src/intent/types.ts';
import { plainNode } from './example.ts';
import { loadFrom } from './load.ts';

async function load(text: string): Promise<Intent> {
  const loaded = await loadFrom({ 'site.yaml': text });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults, null, 1));
  return loaded.value;
}

const smallest = `intent: 1
nodes: { plot-1: { at: plot-1.office.example }, vault: { at: vault.office.example } }
paths: { plotting: { from: plot-1, to: vault, mtu: 9000 } }
`;

describe('the smallest intent', () => {
  it('is two nodes and a path, with all defaults', async () => {
    const inSite = (line: number, column: number) => ({ file: 'site.yaml', line, column });
    const access = [{ via: 'ssh', name: 'ssh' }];
    expect(await load(smallest)).toEqual({
      intent: 1,
      site: 'unnamed site',
      files: ['site.yaml'],
      nodes: [
        {
          ...plainNode,
          name: 'plot-1',
          place: inSite(2, 10),
          at: 'plot-1.office.example',
          access,
          role: 'host',
        },
        {
          ...plainNode,
          name: 'vault',
          place: inSite(2, 49),
          at: 'vault.office.example',
          access,
          role: 'host',
        },
      ],
      segments: [],
      links: [],
      paths: [
        {
          name: 'plotting',
          place: inSite(3, 10),
          from: ['plot-1'],
          to: ['vault'],
          over: [],
          mtuBytes: 9000,
        },
      ],
      policies: [{ name: 'essential' }, { name: 'jumbo' }],
      waivers: [],
    });
  });
});

describe('nodes', () => {
  it.each([
    [
      'local alone needs no address',
      '{ access: local }',
      { role: 'host', access: [{ via: 'local', name: 'local' }] },
    ],
    ['port in the address', '{ at: "[2001:db8::5]:2222" }', { at: '2001:db8::5', atPort: 2222 }],
    ['zone in the address', '{ at: "fe80::1%en0" }', { at: 'fe80::1%en0' }],
    ['SNMP first, then SSH: a host', '{ at: 198.18.0.9, access: [v2, ssh] }', { role: 'host' }],
    ['SNMP only: a switch', '{ at: 198.18.0.9, access: v2 }', { role: 'switch' }],
    ['the role is as said', '{ at: 198.18.0.9, access: v2, role: host }', { role: 'host' }],
    ['an unread dock passes frames', '{ unread: dock }', { role: 'switch', access: [] }],
    ['an unread phone is a host', '{ unread: phone }', { role: 'host', access: [] }],
    [
      'one word of accounting for all kinds of port',
      '{ at: x, mtuCounts: header }',
      { mtuCounts: { port: 'header', vlan: 'header', bridge: 'header', bond: 'header' } },
    ],
    ['the MTU is believed', '{ at: x, believe: [mtu] }', { believe: ['mtu'] }],
    [
      'the oldest versions that are accepted',
      '{ at: x, osAtLeast: "14.5", ports: { desk: { name: en7, driverAtLeast: "1.2.3" } } }',
      {
        osAtLeast: '14.5',
        ports: [{ alias: 'desk', name: 'en7', driverAtLeast: '1.2.3', place: expect.anything() }],
      },
    ],
    [
      'the bus of an adapter, as written',
      '{ at: x, ports: { desk: { name: en7, bus: PCIe 8.0 GT/s x4 } } }',
      {
        ports: [
          { alias: 'desk', name: 'en7', busText: 'PCIe 8.0 GT/s x4', place: expect.anything() },
        ],
      },
    ],
    [
      'identity in one form',
      '{ at: x, identity: { engineId: "0x80:00:1F:88:04", sysObjectId: .1.3.6.1.4.1.8072, systemName: x1 } }',
      { identity: { engineId: '80001f8804', sysObjectId: '1.3.6.1.4.1.8072', systemName: 'x1' } },
    ],
    [
      'a port as a plain name, a MAC address in one form',
      '{ at: x, ports: { desk: en7, dock: { mac: 02-00-5E-00-00-06 } } }',
      {
        ports: [
          expect.objectContaining({ alias: 'desk', name: 'en7' }),
          { alias: 'dock', place: expect.anything(), mac: '02:00:5e:00:00:06' },
        ],
      },
    ],
    [
      'what may stand behind a port',
      '{ at: x, ports: { xg6: { behind: 8 }, lan: { name: p1, behind: 1 } } }',
      {
        ports: [
          { alias: 'xg6', place: expect.anything(), behind: 8 },
          { alias: 'lan', place: expect.anything(), name: 'p1', behind: 1 },
        ],
      },
    ],
    [
      'two ways of one access, in the order written',
      '{ at: x, access: both }',
      {
        access: [
          { via: 'snmp', name: 'both', version: '3', user: 'auditor' },
          { via: 'ssh', name: 'both', port: 2222 },
        ],
      },
    ],
  ])('%s', async (_, node, expected) => {
    const text = `intent: 1
access:
  v2: { snmp: { version: 2c, community: READ_1 } }
  both: { snmp: { version: "3", user: auditor, auth: none, privacy: none }, ssh: { port: 2222 } }
nodes: { it: ${node} }
`;
    expect((await load(text)).nodes[0]).toMatchObject(expected);
  });

  it('may be called by a plain number', async () => {
    expect((await load('intent: 1\nnodes: { 20: { at: x } }')).nodes[0]?.name).toBe('20');
  });

  it('may be called as what JavaScript objects inherit', async () => {
    const { nodes } = await load(
      'intent: 1\nnodes: { constructor: { at: x, ports: { toString: en0 } } }',
    );
    expect(nodes.map(({ name, ports }) => [name, ports[0]?.alias])).toEqual([
      ['constructor', 'toString'],
    ]);
  });
});

const ground = `intent: 1
nodes: { a: { at: a }, b: { at: b }, c: { at: c }, sw: { unread: switch } }
segments: { s: { mtu: 9000 }, t: {} }
links:
  - { ends: [a:1, sw:1], untagged: s }
  - { ends: [b:1, "sw:2:0"], tagged: s, duplex: half, speed: 100M }
  - { ends: [c:1, sw:3], untagged: t, tagged: [s] }
`;

describe('links', () => {
  it('are split at the first colon of an end', async () => {
    const link = (await load(ground)).links[1];
    expect(link?.ends[1]).toMatchObject({ node: 'sw', port: '2:0' });
    expect([link?.id, link?.duplex, link?.speedMbps]).toEqual(['b:1 - sw:2:0', 'half', 100]);
  });
});

describe('paths', () => {
  it.each([
    ['a segment stands for its hosts, not its switch', '{ from: s, to: b }', [['a', 'c'], ['b']]],
    [
      'a node of both ends is dropped from the first',
      '{ from: [b, a], to: [c, b] }',
      [['a'], ['c', 'b']],
    ],
    [
      'a node and a segment with it name it once',
      '{ from: [a, t, s], to: b }',
      [['a', 'c'], ['b']],
    ],
  ])('%s', async (_, path, expected) => {
    const { paths } = await load(`${ground}paths: { p: ${path} }\n`);
    expect(paths.map(({ from, to }) => [from, to])).toEqual([expected]);
  });
});

describe('waivers', () => {
  it.each(['a', 'a:77', 'b:1 - sw:2:0', 's', 'p', 'p (a to b)', 'sw:Port - 4'])(
    'may stand on %s',
    async (on) => {
      const waiver = `{ rule: speed-declared, on: "${on}", until: 2028-02-29, because: ">\\n known" }`;
      const text = `${ground}paths: { p: { from: a, to: b } }\nwaivers: [${waiver}]\n`;
      expect((await load(text)).waivers).toMatchObject([{ on, because: '> known' }]);
    },
  );
});

describe('policies', () => {
  it('are files relative to the file that names them, made absolute', async () => {
    const { policies } = await load(`${ground}policies: [jumbo, ../own/night.yaml]\n`);
    expect(policies.map(({ name, file }) => [name, file])).toEqual([
      ['jumbo', undefined],
      ['../own/night.yaml', '/own/night.yaml'],
    ]);
  });
});

describe('YAML', () => {
  it('is of version 1.2, core schema: yes and 12:30 are text (YAML 1.2.2, section 10.3)', async () => {
    const { site, links } = await load(`${ground.replace('intent: 1', 'intent: 1\nsite: yes')}`);
    expect([site, links.length]).toEqual(['yes', 3]);
    expect((await load(`${ground}policies: [jumbo]\nsite: 12:30\n`)).site).toBe('12:30');
  });

  it('may use aliases, each pointing to where its anchor stands', async () => {
    const text =
      'intent: 1\nnodes:\n  a: &plain { at: 198.18.0.1, ports: { p: en0 } }\n  b: *plain\n';
    const { nodes } = await load(text);
    expect(nodes.map(({ name, place, ports }) => [name, place.line, ports[0]?.place.line])).toEqual(
      [
        ['a', 3, 3],
        ['b', 4, 3],
      ],
    );
  });

  it('may have CRLF line ends and a comment before all', async () => {
    const text = `# yaml-language-server: $schema=intent.schema.json\r\n${smallest.replaceAll('\n', '\r\n')}`;
    expect((await load(text)).paths[0]?.place).toEqual({ file: 'site.yaml', line: 4, column: 10 });
  });
});
