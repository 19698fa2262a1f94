import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { run } from '../../src/cli/run.ts';
import type { CollectDeps } from '../../src/collect/collect-survey.ts';
import type { NodeReading } from '../../src/collect/types.ts';
import type { NeighbourReading } from '../../src/facts/survey.ts';
import type { Access } from '../../src/intent/types.ts';
import { heard } from '../draft/sketch.ts';
import { loadFrom } from '../intent/load.ts';
import { fakeRun, host } from './fake-io.ts';

const doors = `intent: 1
access:
  hosts: { ssh: { user: auditor, password: OFFICE_PASSWORD } }
  switches: { snmp: { version: 3, user: auditor, auth: sha256, privacy: aes128, secret: { auth: A, privacy: P } } }
  old: { snmp: { version: 2c, community: COMMUNITY } }
`;

function named(systemName: string, mtuBytes = 9000, last = 7): NodeReading {
  const reading = host('eth4', mtuBytes);
  const [port] = reading.ports;
  return {
    ...reading,
    facts: { systemKind: 'linux', systemName },
    ports: [{ name: 'eth4', facts: { ...port?.facts, addresses: [`198.18.20.${last}/24`] } }],
  };
}

/** A switch with a port for each neighbour that it hears. */
function switchHearing(systemName: string, neighbours: readonly NeighbourReading[]): NodeReading {
  const ports = neighbours.map(({ port }) => ({
    name: port,
    facts: { kind: 'physical', mtuBytes: 9216, speedMbps: 10_000, operUp: true },
  }));
  return { ...host('x', 9216), facts: { systemKind: 'snmp', systemName }, ports, neighbours };
}

describe('draft', () => {
  it('writes an intent that loads and that audits against what was read', async () => {
    const nodes = {
      'plot-1.office.example': named('plot-1', 9000, 11),
      'vault.office.example': named('vault', 9000, 2),
    };
    const { io, stdout, stderr, files } = fakeRun({ nodes });
    const status = await run(['draft', 'plot-1.office.example', 'vault.office.example'], io);
    expect(status).toBe(0);
    expect(stderr()).toContain('2 nodes read, 0 not');
    const loaded = await loadFrom({ 'site.yaml': stdout() });
    expect(loaded.ok && loaded.value.nodes.map(({ name }) => name)).toEqual(['plot-1', 'vault']);
    expect(loaded.ok && loaded.value.segments.map(({ mtuBytes }) => mtuBytes)).toEqual([9000]);
    expect(files.size).toBe(0);
  });

  it('tells a node that gives no answer, and ends with 2', async () => {
    const { io, stdout, stderr } = fakeRun({ nodes: { vault: named('vault') } });
    expect(await run(['draft', 'vault', 'plot-9'], io)).toBe(2);
    expect(stderr()).toContain('1 node read, 1 not; 0 links (');
    expect(stdout()).not.toContain('plot-9:');
  });

  it('names who was not read, with the reason and what to do, on stderr and in the file', async () => {
    const { io, stdout, stderr } = fakeRun({
      nodes: { vault: named('vault') },
    });
    expect(await run(['draft', 'vault', 'plot-9', '--out', 'new.yaml'], io)).toBe(2);
    const words =
      'plot-9 was not read, so nothing of it is drafted: no answer within 10 s; look whether it has power';
    expect(stderr()).toContain(`\n${words}\n`);
    expect(stderr()).toContain('then: hopgauge audit new.yaml');
    expect(stdout()).toBe('');
    const quiet = fakeRun({ nodes: { vault: named('vault') } });
    await run(['draft', 'vault', 'plot-9', '--quiet'], quiet.io);
    expect(quiet.stdout()).toContain(`\n# ? ${words}\n`);
    expect(quiet.stderr()).toBe('');
  });

  it('writes nothing where nothing was read, and says why even when quiet', async () => {
    const { io, stdout, stderr, files } = fakeRun();
    expect(await run(['draft', 'plot-9', '--quiet', '--out', 'new.yaml'], io)).toBe(2);
    expect(stderr()).toBe(
      'plot-9 was not read, so nothing of it is drafted: no answer within 10 s; look whether it has power\nnothing was read, so no draft was written\n',
    );
    expect([stdout(), [...files.keys()]]).toEqual(['', []]);
  });

  it.each<[string, readonly string[], number, string]>([
    ['nothing named', ['draft'], 64, 'name at least one address'],
    ['an access that is not there', ['draft', 'nobody=vault'], 64, "no access is called 'nobody'"],
    ['no address', ['draft', 'va ult'], 64, "'va ult' is no address"],
    ['a prefix that is none', ['draft', 'vault', '--within', '198.18.0.0'], 64, 'is no prefix'],
    [
      'a file that is there',
      ['draft', 'vault', '--out', 'hopgauge.yaml'],
      73,
      'there is a file already',
    ],
    [
      'a survey beside addresses',
      ['draft', 'vault', '--survey', 's.json'],
      64,
      'leave the addresses',
    ],
    ['agents without a way', ['draft', 'switches=quay-sw'], 64, 'give --snmp-user NAME'],
    [
      'an SNMP user without a name',
      ['draft', 'switches=quay-sw', '--snmp-user', ''],
      64,
      "--snmp-user: '' is no user name",
    ],
    ['a user name with a space', ['draft', 'vault', '--ssh-user', 'a b'], 64, 'is no user name'],
  ])('refuses %s', async (_, argv, expected, words) => {
    const { io, stderr, asked } = fakeRun({ files: { 'hopgauge.yaml': 'intent: 1\n' } });
    expect(await run(argv, io)).toBe(expected);
    expect(stderr()).toContain(words);
    expect(asked).toEqual([]);
  });
});

describe('neighbours that are followed', () => {
  /** What was offered to whom. */
  async function follow(argv: readonly string[], nodes: Readonly<Record<string, NodeReading>>) {
    const offered: { readonly to: string; readonly access: Access }[] = [];
    const read: CollectDeps['read'] = async (node, access) => {
      offered.push({ to: node.name, access });
      const reading = nodes[node.name];
      const trouble = { kind: 'silent', seen: 'no answer', remedy: 'look' } as const;
      return reading === undefined ? { ok: false, trouble } : { ok: true, reading };
    };
    const fake = fakeRun({ files: { 'doors.yaml': doors }, io: { read } });
    const status = await run(['draft', '--access', 'doors.yaml', ...argv], fake.io);
    return { ...fake, status, offered, said: fake.stderr() };
  }

  const quay = switchHearing('quay-sw', [
    { ...heard('xg1', 'loft-sw', 'xg8'), addresses: ['198.18.0.3'], capabilities: ['bridge'] },
    { ...heard('xg2', 'plot-1', 'eth4'), addresses: ['198.18.0.11'], capabilities: ['station'] },
    { ...heard('xg3', 'far-sw', 'xg1'), addresses: ['192.0.2.9'], capabilities: ['bridge'] },
  ]);
  const loft = switchHearing('loft-sw', [
    { ...heard('xg8', 'quay-sw', 'xg1'), addresses: ['198.18.0.2'], capabilities: ['bridge'] },
    { ...heard('xg5', 'vault', 'eth4'), addresses: ['198.18.0.12'], capabilities: [] },
  ]);

  it('stay inside the prefix, are read once each, and link by link', async () => {
    const nodes = { '198.18.0.2': quay, '198.18.0.3': loft, '198.18.0.11': named('plot-1') };
    const { offered, status } = await follow(
      ['switches=198.18.0.2', '--within', '198.18.0.0/24'],
      nodes,
    );
    expect(offered.map(({ to }) => to)).toEqual([
      '198.18.0.2',
      '198.18.0.3',
      '198.18.0.11',
      '198.18.0.12',
    ]);
    expect(status).toBe(2);
  });

  it('are offered no password and no community', async () => {
    const { offered } = await follow(['old=198.18.0.2', '--within', '198.18.0.0/15'], {
      '198.18.0.2': quay,
    });
    expect(offered[0]?.access).toMatchObject({ version: '2c', community: 'COMMUNITY' });
    const strangers = offered.slice(1).map(({ access }) => access);
    expect(strangers).toEqual([
      expect.objectContaining({ via: 'snmp', version: '3' }),
      { via: 'ssh', name: 'hosts', user: 'auditor' },
    ]);
  });

  it('are not followed without a prefix', async () => {
    const { offered } = await follow(['switches=198.18.0.2'], { '198.18.0.2': quay });
    expect(offered.map(({ to }) => to)).toEqual(['198.18.0.2']);
  });
});

const intent = `# the office
intent: 1
site: Saltmarsh survey office
nodes:
  # the server
  vault: { at: vault.office.example, identity: { systemName: vault } }   # keep me
  quay-sw:
    at: quay-sw.office.example
    access: [switches]

access:
  switches: { snmp: { version: 3, user: auditor, auth: sha256, privacy: aes128, secret: { auth: A, privacy: P } } }
segments: { storage: { mtu: 9000 } }
links:
  - { ends: [vault:eth4, quay-sw:xg3], untagged: storage }
`;

describe('a patch onto an intent', () => {
  const nodes = {
    'vault.office.example': named('vault', 9000, 2),
    'quay-sw.office.example': switchHearing('quay-sw', [
      heard('xg2', 'plot-1', 'eth4'),
      heard('xg3', 'vault', 'eth4'),
    ]),
    'plot-1.office.example': named('plot-1', 9000, 11),
  };

  async function patched(source: string) {
    const folder = mkdtempSync(join(tmpdir(), 'hopgauge-onto-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const file = join(folder, 'site.yaml');
    writeFileSync(file, source);
    const fake = fakeRun({ files: { 'site.yaml': source }, nodes });
    const status = await run(['draft', '--onto', 'site.yaml', 'plot-1.office.example'], fake.io);
    if (fake.stdout() !== '') {
      execFileSync('patch', ['-p0', '--quiet'], { cwd: folder, input: fake.stdout() });
    }
    return { status, text: readFileSync(file, 'utf8'), stderr: fake.stderr() };
  }

  it('adds what is not there, and keeps every line of the owner', async () => {
    const { status, text } = await patched(intent);
    expect(status).toBe(0);
    const lines = text.split('\n');
    for (const line of intent.split('\n')) expect(lines).toContain(line);
    const loaded = await loadFrom({ 'site.yaml': text });
    expect(loaded.ok ? loaded.value.nodes.map(({ name }) => name) : loaded.faults).toEqual([
      'vault',
      'quay-sw',
      'plot-1',
    ]);
    expect(loaded.ok && loaded.value.links.map(({ id }) => id)).toEqual([
      'vault:eth4 - quay-sw:xg3',
      'plot-1:eth4 - quay-sw:xg2',
    ]);
    expect(loaded.ok && loaded.value.links[1]?.untagged).toBe('storage');
    expect(loaded.ok && loaded.value.segments.map(({ name }) => name)).toEqual(['storage']);
  });

  it('is nothing the second time', async () => {
    const once = await patched(intent);
    expect(once.stderr).toContain('site.yaml lacks 1 link, 1 node and 0 segments\n');
    expect(once.stderr).toContain(
      'apply the patch with: patch -p0; then: hopgauge audit site.yaml',
    );
    const twice = await patched(once.text);
    expect(twice.text).toBe(once.text);
    expect(twice.stderr).toContain('site.yaml lacks 0 links, 0 nodes and 0 segments\n');
    expect(twice.stderr).toContain('nothing to add to site.yaml\n');
    expect(twice.stderr).not.toContain('plugged into');
  });

  it('prints the questions that stand in no line of it, and none of paths where there are some', async () => {
    const asked = await patched(intent);
    expect(asked.stderr).toContain('\n? which way matters? such as: { from: plot-1, to: vault,');
    const settled = await patched(
      `${intent}paths: { main: { from: vault, to: vault, over: storage } }\n`,
    );
    expect(settled.stderr).not.toContain('which way matters');
  });

  it('tells where the intent differs from what is seen, and changes nothing there', async () => {
    const wrong = intent.replace('quay-sw:xg3]', 'quay-sw:xg2]');
    const { text, stderr } = await patched(wrong);
    expect(stderr).toContain(
      'seen vault:eth4 - quay-sw:xg3 (LLDP on quay-sw only), where the intent has vault:eth4 - quay-sw:xg2',
    );
    expect(text).toContain('ends: [vault:eth4, quay-sw:xg2]');
  });

  it('says what a section in one line would take', async () => {
    const flow = intent.replace(
      /nodes:\n[\s\S]*?\n\n/,
      'nodes: { vault: { at: vault.office.example }, quay-sw: { at: quay-sw.office.example, access: [switches] } }\n\n',
    );
    const { stderr } = await patched(flow);
    expect(stderr).toContain("site.yaml: 'nodes:' is written in one line and takes no patch");
    expect(stderr).toContain('plot-1: { at: plot-1.office.example }');
  });
});
