import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { fakeRun } from './fake-io.ts';

const office = `intent: 1
site: Saltmarsh survey office
access:
  switches: { snmp: { version: 3, user: auditor, auth: sha256, privacy: aes128, secret: { auth: A, privacy: P } } }
nodes:
  plot-1: { at: plot-1.office.example, ports: { desk: { name: en7 } } }
  quay-sw: { at: quay-sw.office.example, access: [switches] }
  loft-sw: { unread: switch, frame: 9216 }
  attic: { at: attic.office.example }
segments: { storage: { mtu: 9000 } }
links:
  - { ends: [plot-1:desk, quay-sw:xg2], untagged: storage, speed: 10G }
  - { ends: ["quay-sw:Port 4", loft-sw:a], untagged: storage, speed: 10G }
`;
const files = { 'hopgauge.yaml': office };

async function doorsOf(...targets: readonly string[]) {
  const fake = fakeRun({ files });
  expect(await run(['live', ...targets, '--show-commands'], fake.io)).toBe(0);
  expect(fake.stdout()).toContain('nothing was sent\n');
  return fake.stdout().split('\n\n')[0]?.split('\n');
}

describe('live', () => {
  const plot = 'plot-1: SSH to plot-1.office.example; ports en7';
  const quay = (ports: string) =>
    `quay-sw: SNMP version 3 as auditor, to quay-sw.office.example; ports ${ports}`;
  it.each([
    ['a port, by its alias, and the other end of its link', ['plot-1:desk'], [plot, quay('xg2')]],
    ['the same by the own name of the port', ['plot-1:en7'], [plot, quay('xg2')]],
    ['one end', ['quay-sw:xg2', '--one-end'], [quay('xg2')]],
    ['a node: its own ports', ['quay-sw'], [quay('xg2, Port 4')]],
    ['each port once', ['quay-sw', 'plot-1:desk', 'quay-sw:xg2'], [quay('xg2, Port 4'), plot]],
    [
      'a port that no link names',
      ['attic:eth1'],
      ['attic: SSH to attic.office.example; ports eth1'],
    ],
    [
      'a node that nobody logs in to',
      ['loft-sw:a'],
      ['loft-sw: nobody can log in to it; not watched: a', quay('Port 4')],
    ],
    ['this machine beside the intent', ['here:eth0'], ['here: this machine, by sh -s; ports eth0']],
  ] as const)('watches %s', async (_, targets, doors) => {
    expect(await doorsOf(...targets)).toEqual(doors);
  });

  it('prints what each kind of node is asked', async () => {
    const fake = fakeRun({ files });
    await run(['live', 'plot-1:desk', '--show-commands'], fake.io);
    expect(fake.stdout()).toContain('  ethtool PORT (linux:');
    expect(fake.stdout()).toContain('IF-MIB ifLastChange (1.3.6.1.2.1.2.2.1.9)');
    const one = fakeRun({ files });
    await run(['live', 'here:eth0', '--show-commands'], one.io);
    expect(one.stdout()).not.toContain('IF-MIB');
  });

  it.each([
    [['vualt'], /^no node, port or link 'vualt' in the intent; /],
    [['here'], /^name a port, as here:eth0; /],
    [['here:eth0;reboot'], /^here:eth0;reboot: 'eth0;reboot' is no name of a port of a host\n$/],
    [['attic'], /^the intent declares no port of attic; name one, as attic:eth0\n$/],
    [['here:eth0', '--for', '2d'], /^--for: a day is the most; write 1h\n$/],
    [['here:eth0', '--for', '0s'], /^--for: '0s' is no age; /],
  ] as const)('64: %j', async (words, stderr) => {
    const fake = fakeRun({ files });
    expect(await run(['live', ...words], fake.io)).toBe(64);
    expect(fake.stderr()).toMatch(stderr);
  });
});
