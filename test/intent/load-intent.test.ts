import { describe, expect, it } from 'vitest';
import type { Intent, RunPiece } from '../../src/intent/types.ts';
import { exampleIntent, sharedAccess } from './example.ts';
import { loadFrom } from './load.ts';

async function load(text: string): Promise<Intent> {
  const loaded = await loadFrom({ 'site.yaml': text });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults, null, 1));
  return loaded.value;
}

async function loadExample(): Promise<Intent> {
  const files = { 'a/site.yaml': exampleIntent, 'shared-access.yaml': sharedAccess };
  const loaded = await loadFrom(files, 'a/site.yaml');
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults, null, 1));
  return loaded.value;
}

const at = (line: number, column: number) => ({ file: 'a/site.yaml', line, column });
const ssh = { via: 'ssh', name: 'hosts', user: 'auditor' };
const plain = {
  sleeps: false,
  mayBeAbsent: false,
  routes: false,
  mtuCounts: {},
  believe: [],
  identity: {},
  ports: [],
};

describe('the example of the Saltmarsh survey office', () => {
  it('has its version, site, files and policies', async () => {
    const { intent, site, files, policies } = await loadExample();
    expect({ intent, site, files, policies }).toEqual({
      intent: 1,
      site: 'Saltmarsh survey office',
      files: ['a/site.yaml', 'shared-access.yaml'],
      policies: [
        { name: 'essential', place: at(28, 12) },
        { name: 'jumbo', place: at(28, 23) },
        { name: 'cabling', place: at(28, 30) },
        { name: 'signal', place: at(28, 39) },
      ],
    });
  });

  it('has its nodes, with their access resolved and their role told', async () => {
    const { nodes } = await loadExample();
    expect(nodes).toEqual([
      {
        ...plain,
        name: 'plot-1',
        place: at(9, 3),
        at: 'plot-1.office.example',
        access: [ssh],
        role: 'host',
        sleeps: true,
        ports: [{ alias: 'desk', place: at(9, 82), name: 'en7', mac: '02:00:5e:00:00:05' }],
      },
      {
        ...plain,
        name: 'vault',
        place: at(10, 3),
        at: 'vault.office.example',
        access: [ssh],
        role: 'host',
      },
      {
        ...plain,
        name: 'quay-sw',
        place: at(11, 3),
        at: 'quay-sw.office.example',
        access: [
          {
            via: 'snmp',
            name: 'switches',
            version: '3',
            user: 'auditor',
            auth: 'sha256',
            privacy: 'aes128',
            secret: { auth: 'SALTMARSH_AUTH', privacy: 'SALTMARSH_PRIV' },
          },
        ],
        role: 'switch',
        mtuCounts: { port: 'header-fcs' },
      },
      {
        ...plain,
        name: 'loft-sw',
        place: at(12, 3),
        access: [],
        role: 'switch',
        unread: 'switch',
        frameBytes: 9216,
      },
      {
        ...plain,
        name: 'gate',
        place: at(13, 3),
        at: 'gate.office.example',
        access: [ssh],
        role: 'host',
        routes: true,
      },
    ]);
  });

  it('has its segments, paths and waivers', async () => {
    const { segments, paths, waivers } = await loadExample();
    expect({ segments, paths, waivers }).toEqual({
      segments: [
        { name: 'storage', place: at(16, 3), vlan: 20, mtuBytes: 9000, ipv6: false },
        { name: 'office', place: at(17, 3), vlan: 1, mtuBytes: 1500, ipv6: false },
      ],
      paths: [
        {
          name: 'plotting',
          place: at(26, 3),
          from: ['plot-1'],
          to: ['vault'],
          over: ['storage'],
          goodputMbps: 9400,
        },
      ],
      waivers: [
        {
          rule: 'duplex-full',
          on: 'quay-sw:g7',
          until: '2027-03-31',
          because: 'label printer is 10 Mb/s half by design',
          place: at(32, 5),
          rulePlace: at(32, 13),
        },
      ],
    });
  });

  it('has its links, with the run of the first in order', async () => {
    const { links } = await loadExample();
    const piece = (text: string, column: number, rest: Partial<RunPiece>) => ({
      text,
      place: at(20, column),
      fieldTerminated: false,
      ...rest,
    });
    expect(links[0]).toEqual({
      id: 'plot-1:desk - quay-sw:xg2',
      place: at(20, 5),
      ends: [
        { node: 'plot-1', port: 'desk', place: at(20, 14) },
        { node: 'quay-sw', port: 'xg2', place: at(20, 27) },
      ],
      untagged: 'storage',
      tagged: [],
      speedMbps: 10_000,
      duplex: 'full',
      run: [
        piece('cord cat6a 2 m', 78, { kind: 'cord', category: 'cat6a', lengthMetres: 2 }),
        piece('jack W-07', 94, { kind: 'jack', label: 'W-07' }),
        piece('wall cat6a 21 m', 105, { kind: 'wall', category: 'cat6a', lengthMetres: 21 }),
        piece('panel B/12', 122, { kind: 'panel', label: 'B/12' }),
        piece('cord cat6 2 m field-terminated', 134, {
          kind: 'cord',
          category: 'cat6',
          lengthMetres: 2,
          fieldTerminated: true,
        }),
        piece('module 10GBASE-T', 166, { kind: 'module', moduleType: '10GBASE-T' }),
      ],
    });
    expect(
      links
        .slice(1)
        .map(({ id, untagged, tagged, lag, speedMbps }) => [id, untagged, tagged, lag, speedMbps]),
    ).toEqual([
      ['vault:eth4 - quay-sw:xg3', 'storage', [], 'vault-up', 10_000],
      ['vault:eth5 - quay-sw:Port 4', 'storage', [], 'vault-up', 10_000],
      ['quay-sw:xg8 - gate:em0', undefined, ['storage', 'office'], undefined, undefined],
    ]);
  });
});

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
          ...plain,
          name: 'plot-1',
          place: inSite(2, 10),
          at: 'plot-1.office.example',
          access,
          role: 'host',
        },
        {
          ...plain,
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
    ['a node and a segment, each node once', '{ from: b, to: [c, s] }', [[], []]],
    ['segments at both ends', '{ from: [a, t], to: b }', [['a', 'c'], ['b']]],
  ])('%s', async (name, path, expected) => {
    const loaded = await loadFrom({ 'site.yaml': `${ground}paths: { p: ${path} }\n` });
    if (name.startsWith('a node')) expect(loaded.ok).toBe(false);
    else if (loaded.ok) {
      expect(loaded.value.paths.map(({ from, to }) => [from, to])).toEqual([expected]);
    } else throw new Error(JSON.stringify(loaded.faults));
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
