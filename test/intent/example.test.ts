import { describe, expect, it } from 'vitest';
import type { Intent, RunPiece } from '../../src/intent/types.ts';
import { exampleIntent, plainNode, sharedAccess } from './example.ts';
import { loadFrom } from './load.ts';

async function loadExample(): Promise<Intent> {
  const files = { 'a/site.yaml': exampleIntent, 'shared-access.yaml': sharedAccess };
  const loaded = await loadFrom(files, 'a/site.yaml');
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults, null, 1));
  return loaded.value;
}

const at = (line: number, column: number) => ({ file: 'a/site.yaml', line, column });
const ssh = { via: 'ssh', name: 'hosts', user: 'auditor' };

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
        ...plainNode,
        name: 'plot-1',
        place: at(9, 3),
        at: 'plot-1.office.example',
        access: [ssh],
        role: 'host',
        sleeps: true,
        ports: [{ alias: 'desk', place: at(9, 82), name: 'en7', mac: '02:00:5e:00:00:05' }],
      },
      {
        ...plainNode,
        name: 'vault',
        place: at(10, 3),
        at: 'vault.office.example',
        access: [ssh],
        role: 'host',
      },
      {
        ...plainNode,
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
        ...plainNode,
        name: 'loft-sw',
        place: at(12, 3),
        access: [],
        role: 'switch',
        unread: 'switch',
        frameBytes: 9216,
      },
      {
        ...plainNode,
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
