import { describe, expect, it } from 'vitest';
import { gapOf } from '../../src/facts/subject.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import { makeIntent, makeSurvey, subjectIn } from './builders.ts';
import { plottingSite } from './plotting-site.ts';

const mac = '02:00:5e:00:00:05';

describe('a declared port', () => {
  const find = (ports: Parameters<typeof makeSurvey>[0][string]['ports'], declared: object) =>
    plottingSite({
      nodes: { 'plot-1': { ports: { desk: declared } } },
      readings: { 'plot-1': { ports: ports ?? {} } },
    });

  it('is found by its name', () => {
    const { facts } = subjectIn(find({ en7: {} }, { name: 'en7' }), 'ports', 'plot-1:desk');
    expect(facts).toMatchObject({ found: true, name: 'en7', mtuBytes: 1500 });
  });

  it('is found by its MAC address under another name, the hardware before a VLAN on it', () => {
    const ports = {
      'en9.20': { kind: 'vlan', vlanId: 20, macAddress: mac, lowerPorts: ['en9'] },
      en9: { macAddress: mac },
      en7: { macAddress: '02:00:5e:00:00:99' },
    };
    const { facts } = subjectIn(find(ports, { name: 'en7', mac }), 'ports', 'plot-1:desk');
    expect(facts).toMatchObject({ found: true, name: 'en9' });
  });

  describe('with the address that a bond shares', () => {
    const other = '02:00:5e:00:00:99';
    const ports = {
      bond0: { kind: 'bond', macAddress: mac, lowerPorts: ['eth4', 'eth5'] },
      eth4: { macAddress: mac, permanentMacAddress: other },
      eth5: { macAddress: mac, permanentMacAddress: mac },
    };

    it.each([
      ['a member is the one that was built with it', { name: 'eth4', mac }, 'eth5', false],
      ['a member of an unknown name, too', { name: 'eth9', mac }, 'eth5', false],
      ['the bond is the bond where it is named', { name: 'bond0', mac }, 'bond0', true],
      ['a member that is named is that member', { name: 'eth5', mac }, 'eth5', true],
      ['an alias without a name says nothing of names', { mac }, 'eth5', undefined],
    ])('%s', (_, declared, name, nameAsDeclared) => {
      const { facts } = subjectIn(find(ports, declared), 'ports', 'plot-1:desk');
      expect([facts['name'], facts['nameAsDeclared']]).toEqual([name, nameAsDeclared]);
    });
  });

  it('keeps quiet about a name that the system itself has for it', () => {
    const ports = { en9: { macAddress: mac, alias: 'Slot 1' } };
    const { facts } = subjectIn(find(ports, { name: 'Slot 1', mac }), 'ports', 'plot-1:desk');
    expect(facts).toMatchObject({ name: 'en9', nameAsDeclared: true });
  });

  it('that was not found has no name to compare, for that reason', () => {
    const { own } = subjectIn(find({ en1: {} }, { name: 'en7', mac }), 'ports', 'plot-1:desk');
    expect(own?.gaps['nameAsDeclared']).toMatchObject({ cause: 'port plot-1:desk' });
  });

  it('is one port whether a link names it by alias or by name', () => {
    const site = plottingSite({
      nodes: { 'quay-sw': { ports: { up: { name: 'xg2' } } } },
    });
    expect(site.links[0]?.ends[1].id).toBe('quay-sw:up');
  });

  it('that does not exist is said to be missing, with the nearest name', () => {
    const site = find({ en1: {}, desk2: {} }, { name: 'deks2' });
    const { facts, own } = subjectIn(site, 'ports', 'plot-1:desk');
    expect(facts).toMatchObject({ found: false, nearestName: 'desk2' });
    expect(own?.gaps['mtuBytes']).toEqual({
      reason: 'unsupported',
      words: 'the node has no port "deks2"; the nearest name is "desk2"',
      cause: 'port plot-1:desk',
    });
    expect(subjectIn(site, 'paths', 'plotting').own?.gaps['carriesDeclaredMtu']?.cause).toBe(
      'port plot-1:desk',
    );
  });
});

describe('a hardware port of macOS', () => {
  const slot = 'Thunderbolt Ethernet Slot 1';
  const site = (
    written: string,
    ports: Parameters<typeof makeSurvey>[0][string]['ports'],
    { systemKind = 'macos', declared = {} }: { systemKind?: string; declared?: object } = {},
  ) =>
    buildSite(
      makeIntent({
        nodes: { 'plot-1': { ports: declared as Record<string, object> }, vault: {} },
        links: { [`plot-1:${written} - vault:eth4`]: {} },
      }),
      makeSurvey({
        'plot-1': { facts: { systemKind }, ports: ports ?? {} },
        vault: { ports: { eth4: {} } },
      }),
      { strict: false },
    );
  const port = (...args: Parameters<typeof site>) => site(...args).links[0]?.ends[0];

  it('is found by its name, whatever its device is called today', () => {
    const en9 = { en9: { alias: slot, mtuBytes: 9000 }, en5: { alias: 'Ethernet' } };
    expect(port(slot, en9)?.id).toBe(`plot-1:${slot}`);
    expect(port(slot, en9)?.subject.facts).toMatchObject({
      found: true,
      name: 'en9',
      mtuBytes: 9000,
    });
  });

  it('has one id for its two names', () => {
    const built = site(slot, {
      en9: { alias: slot },
      vlan0: { kind: 'vlan', lowerPorts: ['en9'] },
    });
    expect([...built.ports.map(({ id }) => id)].sort()).toEqual([`plot-1:${slot}`, 'vault:eth4']);
  });

  it('is the port of a declared alias that has its name or its device', () => {
    const ports = { en9: { alias: slot, macAddress: mac } };
    const declared = (desk: object) => ({ declared: { desk } });
    expect(port('desk', ports, declared({ name: slot }))?.subject.facts).toMatchObject({
      name: 'en9',
    });
    expect(port(slot, ports, declared({ name: 'en9' }))?.id).toBe('plot-1:desk');
    expect(port(slot, ports, declared({ mac }))?.id).toBe('plot-1:desk');
  });

  it.each([
    ['several are called so', { en8: { alias: slot }, en9: { alias: slot } }, 'macos'],
    ['none is', { en8: { alias: 'Ethernet' } }, 'macos'],
    ['it is the description that an operator gave', { en8: { alias: slot } }, 'linux'],
  ])('is not found where %s', (_, ports, systemKind) => {
    expect(port(slot, ports, { systemKind })?.subject.facts).toMatchObject({ found: false });
  });

  it('never goes before a device of that name', () => {
    const ports = { en8: { mtuBytes: 1500 }, en9: { alias: 'en8', mtuBytes: 9000 } };
    expect(port('en8', ports)?.subject.facts).toMatchObject({ name: 'en8', mtuBytes: 1500 });
  });
});

describe('a declared version', () => {
  const facts = (
    kind: 'nodes' | 'ports',
    id: string,
    readings: Parameters<typeof makeSurvey>[0][string],
  ) =>
    subjectIn(
      plottingSite({
        nodes: { vault: { osAtLeast: '14.5', ports: { eth4: { driverAtLeast: '3.1' } } } },
        readings: { vault: readings },
      }),
      kind,
      id,
    );

  it.each([
    ['14.5', true],
    ['14.4', false],
  ])('of the system: %s is recent enough: %s', (osVersion, expected) => {
    const subject = facts('nodes', 'vault', { facts: { osVersion }, ports: { eth4: {} } });
    expect(subject.facts).toMatchObject({ declaredOsAtLeast: '14.5', osRecentEnough: expected });
  });

  it.each([
    ['3.1', true],
    ['3.0.9', false],
  ])('of a driver: %s is recent enough: %s', (driverVersion, expected) => {
    const subject = facts('ports', 'vault:eth4', { ports: { eth4: { driverVersion } } });
    expect(subject.facts).toMatchObject({
      declaredDriverAtLeast: '3.1',
      driverRecentEnough: expected,
    });
  });

  it('that cannot be compared is a gap, as one that was not read', () => {
    const odd = facts('nodes', 'vault', {
      facts: { osVersion: '12 (bookworm)' },
      ports: { eth4: {} },
    });
    expect(odd.own?.gaps['osRecentEnough']?.reason).toBe('unreadable');
    const unread = facts('nodes', 'vault', { ports: { eth4: {} } });
    expect(unread.own?.gaps['osRecentEnough']?.reason).toBe('unsupported');
    const driver = facts('ports', 'vault:eth4', { ports: { eth4: {} } });
    expect(driver.own?.gaps['driverRecentEnough']?.reason).toBe('unasked');
  });
});

describe('a duplex that the node does not tell', () => {
  const gap = { reason: 'unsupported', words: 'unknown(1)' } as const;
  const rows = [
    [10_000, 'full', 'IEEE 802.3: above 1000 Mb/s there is no half duplex'],
    [2_500, 'full', 'IEEE 802.3: above 1000 Mb/s there is no half duplex'],
    [1_000, 'full', 'common practice: half duplex is not built at 1000 Mb/s'],
    [100, undefined, undefined],
  ] as const;
  it.each(rows)('at %i Mb/s', (speedMbps, duplex, source) => {
    const port = { mtuBytes: 9216, speedMbps };
    const site = plottingSite({
      readings: {
        'quay-sw': { ports: { xg2: port, xg3: port }, portOwnGaps: { xg2: { duplex: gap } } },
      },
    });
    const { facts, own } = subjectIn(site, 'ports', 'quay-sw:xg2');
    expect([facts['duplex'], own?.sources['duplex']]).toEqual([duplex, source]);
    const link = subjectIn(site, 'links', 'plot-1:desk - quay-sw:xg2');
    expect(link.facts['duplexesEqual']).toBe(duplex === undefined ? undefined : true);
    if (duplex === undefined)
      expect(link.own?.gaps['duplexesEqual']).toEqual({
        ...gap,
        words: 'quay-sw:xg2: unknown(1)',
        cause: 'unknown port.duplex of quay-sw:xg2',
      });
  });
});

describe('a wireless port', () => {
  it('has no duplex by its speed', () => {
    const { facts } = subjectIn(
      plottingSite({
        readings: {
          'plot-1': {
            ports: { desk: { kind: 'wireless', speedMbps: 1200 } },
            portOwnGaps: { desk: { duplex: { reason: 'unsupported', words: 'no duplex' } } },
          },
        },
      }),
      'ports',
      'plot-1:desk',
    );
    expect([facts['virtual'], facts['duplex']]).toEqual([false, undefined]);
  });
});

describe('what is wanted through a port', () => {
  const small = { mtuBytes: 1500 };
  const site = plottingSite({
    intent: {
      segments: { storage: { vlan: 20, mtuBytes: 9000 }, office: { vlan: 1, mtuBytes: 1500 } },
      links: {
        'plot-1:desk - quay-sw:xg2': { untagged: 'office', tagged: ['storage'] },
        'quay-sw:xg3 - vault:eth4': { untagged: 'storage' },
        'quay-sw:g7 - printer:lan': { untagged: 'office' },
      },
    },
    nodes: { printer: { unread: 'printer' } },
    readings: { 'quay-sw': { ports: { xg2: small, xg3: small, g7: small } } },
  });
  const wanted = (id: string) => {
    const { facts } = subjectIn(site, 'ports', id);
    const names = ['segments', 'tags', 'declaredMtuBytes', 'mtuBytes', 'carriesDeclaredMtu'];
    return names.map((name) => facts[name]);
  };

  it('is the most that its segments and paths want', () => {
    expect(wanted('quay-sw:xg2')).toEqual([['office', 'storage'], 1, 9000, undefined, undefined]);
    expect(wanted('quay-sw:xg3')).toEqual([['storage'], 0, 9000, undefined, undefined]);
  });

  it('decides whether 1500 on all ports of the switch is doubtful', () => {
    expect(wanted('quay-sw:g7')).toEqual([['office'], 0, 1500, 1500, true]);
  });
});

describe('another machine at the address of a node', () => {
  const rows = [
    [
      'another host key than declared',
      { identity: { hostKey: 'SHA256:one' } },
      { facts: { hostKey: 'SHA256:two' } },
      'host key is SHA256:two, declared SHA256:one',
    ],
    [
      'another engine',
      { identity: { engineId: '0x80:00:1F:88' } },
      { facts: { engineId: '80001f89' } },
      'engine id is 80001f89, declared 0x80:00:1F:88',
    ],
    [
      'another name',
      { identity: { systemName: 'vault' } },
      { facts: { systemName: 'printer.office.example' } },
      'system name is printer.office.example, declared vault',
    ],
    [
      'no port with the declared MAC address',
      { ports: { eth4: { mac } } },
      { ports: { eth4: { macAddress: '02:00:5e:00:00:77' } } },
      `no port has the MAC address ${mac} that eth4 is declared with`,
    ],
  ] as const;
  it.each(rows)('%s: its ports get no verdict', (_, node, reading, sign) => {
    const ports = { eth4: { mtuBytes: 1500, addresses: ['198.18.20.2/24'] } };
    const site = plottingSite({
      nodes: { vault: node },
      readings: { vault: { ports, ...reading } },
    });
    expect(subjectIn(site, 'nodes', 'vault').facts['contradictions']).toEqual([sign]);
    const gap = {
      reason: 'doubtful',
      words: `another machine seems to answer at its address: ${sign}`,
      cause: 'node vault',
    };
    const port = subjectIn(site, 'ports', 'vault:eth4');
    expect(port.facts['mtuBytes']).toBeUndefined();
    expect(port.shared.gaps['mtuBytes']).toEqual(gap);
    expect(subjectIn(site, 'paths', 'plotting').own?.gaps['carriesDeclaredMtu']).toEqual({
      ...gap,
      words: `vault:eth4: ${gap.words}`,
    });
  });

  it('a changed host key is one as well, though nothing was read', () => {
    const trouble = {
      kind: 'host-key-changed',
      seen: 'the host key is SHA256:two, known_hosts has SHA256:one',
      remedy: 'find out why',
    } as const;
    const site = plottingSite({ readings: { vault: { trouble } } });
    const node = subjectIn(site, 'nodes', 'vault');
    expect(node.facts['contradictions']).toEqual([trouble.seen]);
    expect(node.own?.gaps['read']?.cause).toBe('node vault');
  });

  it('is not seen in the same identity written otherwise', () => {
    const site = plottingSite({
      nodes: { vault: { identity: { systemName: 'VAULT', engineId: '0x8000' } } },
      readings: {
        vault: {
          facts: { systemName: 'vault.office.example', engineId: '8000' },
          ports: { eth4: { mtuBytes: 9000 } },
        },
      },
    });
    expect(subjectIn(site, 'nodes', 'vault').facts['contradictions']).toEqual([]);
  });
});

describe('a node that sleeps', () => {
  it('is a gap as any other, and its far ports may be down', () => {
    const trouble = { kind: 'no-answer', seen: 'no answer in 10 s', remedy: 'wake it' } as const;
    const site = plottingSite({
      nodes: { 'plot-1': { sleeps: true } },
      readings: { 'plot-1': { trouble } },
    });
    const node = subjectIn(site, 'nodes', 'plot-1');
    expect(node.facts).toMatchObject({ sleeps: true });
    expect(node.own?.gaps['read']).toMatchObject({ reason: 'unreachable', cause: 'node plot-1' });
    expect(subjectIn(site, 'ports', 'quay-sw:xg2').facts['mayBeDown']).toBe(true);
    expect(subjectIn(site, 'ports', 'quay-sw:xg3').facts['mayBeDown']).toBe(false);
  });
});

describe('nodes', () => {
  it('tell live ports that no link names, without virtual and dead ones', () => {
    const site = plottingSite({
      readings: {
        'quay-sw': {
          ports: {
            xg2: { mtuBytes: 9216 },
            xg3: { mtuBytes: 9216 },
            xg10: {},
            xg9: {},
            xg11: { operUp: false },
            vlan1: { kind: 'vlan' },
          },
        },
      },
    });
    expect(subjectIn(site, 'nodes', 'quay-sw').facts['undeclaredLivePorts']).toEqual([
      'xg9',
      'xg10',
    ]);
  });

  it('do not tell that there are none of a list of ports that was cut short', () => {
    const cut = { reason: 'truncated', words: 'ifName: cut' } as const;
    const site = plottingSite({
      readings: {
        'quay-sw': {
          ports: { xg2: { mtuBytes: 9216 }, xg3: { mtuBytes: 9216 } },
          gaps: { ports: cut },
        },
      },
    });
    const { facts, own } = subjectIn(site, 'nodes', 'quay-sw');
    expect([facts['undeclaredLivePorts'], own?.gaps['undeclaredLivePorts']]).toEqual([
      undefined,
      cut,
    ]);
  });

  it('do not tell that there are none while one more may be up', () => {
    const dark = { reason: 'denied', words: 'ifOperStatus: no access' } as const;
    const site = plottingSite({
      readings: {
        'quay-sw': {
          ports: { xg2: { mtuBytes: 9216 }, xg3: { mtuBytes: 9216 }, g1: {} },
          portOwnGaps: { g1: { operUp: dark } },
        },
      },
    });
    const { facts, own } = subjectIn(site, 'nodes', 'quay-sw');
    expect([facts['undeclaredLivePorts'], own?.gaps['undeclaredLivePorts']]).toEqual([
      undefined,
      dark,
    ]);
  });

  it('tell where two accesses disagree', () => {
    const reading = { at: 'vault', startedAt: '2026-11-25T02:00:00.000Z', tookMs: 1 };
    const values = [
      { value: '9000', source: 'ip link mtu' },
      { value: '1500', source: 'IF-MIB ifMtu' },
    ];
    const site = plottingSite({
      readings: {
        vault: {
          ports: { eth4: { mtuBytes: 9000 } },
          readings: [
            { by: 'ssh', ...reading },
            { by: 'snmp', ...reading },
          ],
          disagreements: [{ port: 'eth4', fact: 'mtuBytes', values }],
        },
      },
    });
    expect(subjectIn(site, 'nodes', 'vault').facts['disagreements']).toEqual([
      'eth4 mtuBytes: 9000 (ip link mtu) against 1500 (IF-MIB ifMtu)',
    ]);
  });

  it('without a survey all have the same reason', () => {
    const site = buildSite(makeIntent({ nodes: { vault: {} } }), undefined, { strict: false });
    expect(subjectIn(site, 'nodes', 'vault').own?.gaps['read']).toEqual({
      reason: 'unasked',
      words: 'it is not in the survey',
      cause: 'node vault',
    });
  });
});

describe('a direction', () => {
  it('that leaves by another port is told', () => {
    const site = plottingSite({
      readings: {
        vault: {
          ports: {
            eth0: { addresses: ['198.18.1.2/24'] },
            eth4: { mtuBytes: 9000, addresses: ['198.18.20.2/24'] },
          },
          routes: { '198.18.20.1': 'eth0' },
        },
      },
    });
    const { facts } = subjectIn(site, 'directions', 'plotting: vault to plot-1');
    expect(facts).toMatchObject({ leavesBy: 'vault:eth0', leavesByDeclaredPort: false });
    expect(site.paths[0]?.hops.map((hop) => hop.inUse)).toEqual([
      true,
      undefined,
      undefined,
      false,
    ]);
  });

  it('says nothing of the route to an address off the declared way', () => {
    const site = plottingSite({
      readings: {
        vault: {
          ports: { eth4: { addresses: ['198.18.20.2/24'] } },
          routes: { '198.18.1.1': 'eth0' },
        },
      },
    });
    const { facts, own } = subjectIn(site, 'directions', 'plotting: vault to plot-1');
    expect(facts['leavesByDeclaredPort']).toBeUndefined();
    expect(own?.gaps['leavesByDeclaredPort']).toEqual({
      reason: 'unasked',
      words: 'no route to plot-1 on the declared way was asked for',
    });
  });

  it('to a node of which nothing is known shares the cause of that', () => {
    const trouble = { kind: 'no-answer', seen: 'no answer in 10 s', remedy: 'wake it' } as const;
    const site = plottingSite({ readings: { vault: { trouble } } });
    const { own } = subjectIn(site, 'directions', 'plotting: plot-1 to vault');
    expect(own?.gaps['leavesByDeclaredPort']).toEqual({
      reason: 'unreachable',
      words: 'no address of vault is known',
      cause: 'node vault',
    });
  });

  it('to a node that nobody reads expects nothing', () => {
    const site = plottingSite({ nodes: { vault: { unread: 'printer' } } });
    const { facts, own } = subjectIn(site, 'directions', 'plotting: plot-1 to vault');
    expect([facts['leavesBy'], own?.gaps]).toEqual([undefined, {}]);
  });

  it('without a route says so in the words of the node', () => {
    const site = plottingSite({
      readings: {
        vault: {
          ports: { eth4: { mtuBytes: 9000, addresses: ['198.18.20.2/24'] } },
          routes: { '198.18.20.1': { words: 'Network is unreachable' } },
        },
      },
    });
    const { own } = subjectIn(site, 'directions', 'plotting: vault to plot-1');
    expect(own?.gaps['leavesBy']).toEqual({
      reason: 'unreachable',
      words: 'no route to 198.18.20.1: Network is unreachable',
    });
  });

  it('without a route because its only link is down shares the cause of the link', () => {
    const site = plottingSite({
      readings: {
        vault: {
          ports: { eth4: { mtuBytes: 9000, operUp: false, addresses: ['198.18.20.2/24'] } },
          routes: { '198.18.20.1': { words: 'Network is unreachable' } },
        },
      },
    });
    const { own } = subjectIn(site, 'directions', 'plotting: vault to plot-1');
    expect(own?.gaps['leavesByDeclaredPort']?.cause).toBe('link quay-sw:xg3 - vault:eth4');
    const port = subjectIn(site, 'ports', 'vault:eth4');
    expect(port.facts['linkId']).toBe('quay-sw:xg3 - vault:eth4');
  });

  /** Linux counts neither mss nor advmss with the 12 bytes of timestamps; observed with ss -tino. */
  const rows = [
    ['a small far end', 1448, 8948, true, 1500, true],
    ['a full segment', 8948, 8948, true, 9000, false],
    ['its own small end', 1448, 1448, true, 1500, false],
    ['without timestamps', 1460, 8960, false, 1500, true],
    ['no offer printed', 1448, undefined, true, 1500, undefined],
  ] as const;
  it.each(rows)('%s', (_, segmentBytes, advertisedBytes, timestamps, bytes, small) => {
    const offer = advertisedBytes === undefined ? {} : { advertisedBytes };
    const session = { remote: '198.18.20.2', segmentBytes, timestamps, ...offer };
    const site = plottingSite({
      readings: {
        'plot-1': {
          ports: { desk: { mtuBytes: 9000, addresses: ['198.18.20.1/24'] } },
          routes: { '198.18.20.2': 'desk' },
          sessions: [session, { remote: '198.18.99.9', segmentBytes: 65_000 }],
        },
      },
    });
    const { facts } = subjectIn(site, 'directions', 'plotting: plot-1 to vault');
    expect([facts['sessionBytes'], facts['farEndSmall']]).toEqual([bytes, small]);
  });
});

describe('subjectsOf', () => {
  it('gives every subject in the order of kinds and names', () => {
    expect(subjectsOf(plottingSite()).map((subject) => `${subject.kind} ${subject.id}`)).toEqual([
      'node plot-1',
      'node quay-sw',
      'node vault',
      'port plot-1:desk',
      'port quay-sw:xg2',
      'port quay-sw:xg3',
      'port vault:eth4',
      'link plot-1:desk - quay-sw:xg2',
      'link quay-sw:xg3 - vault:eth4',
      'segment storage',
      'path plotting',
      'direction plotting: plot-1 to vault',
      'direction plotting: vault to plot-1',
    ]);
  });
});

describe('a list of ports that was cut short', () => {
  const intent = makeIntent({
    nodes: { 'plot-1': {}, 'quay-sw': {} },
    links: { 'plot-1:desk - quay-sw:xg9': {} },
  });
  const cut = makeSurvey({
    'plot-1': { ports: { desk: {} } },
    'quay-sw': { ports: { xg2: {} } },
  });
  const survey = {
    ...cut,
    nodes: cut.nodes.map((node) =>
      node.node === 'quay-sw'
        ? { ...node, gaps: { ports: { reason: 'truncated', words: 'time over' } as const } }
        : node,
    ),
  };

  it('never makes a declared port missing', () => {
    const subject = subjectIn(buildSite(intent, survey, { strict: false }), 'ports', 'quay-sw:xg9');
    expect(subject.facts['found']).toBeUndefined();
    expect(subject.facts['nearestName']).toBeUndefined();
    const gap = {
      reason: 'truncated',
      words: 'the list of its ports was not read whole: time over',
      cause: 'ports of quay-sw',
    };
    expect([gapOf(subject, 'found'), gapOf(subject, 'mtuBytes')]).toEqual([gap, gap]);
  });

  it('leaves a port that is not there missing when the list is whole', () => {
    const subject = subjectIn(buildSite(intent, cut, { strict: false }), 'ports', 'quay-sw:xg9');
    expect([subject.facts['found'], subject.facts['nearestName']]).toEqual([false, 'xg2']);
  });
});
