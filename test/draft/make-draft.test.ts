import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftText } from '../../src/draft/draft-text.ts';
import { makeDraft } from '../../src/draft/make-draft.ts';
import type { DraftSubject } from '../../src/draft/types.ts';
import { loadFrom } from '../intent/load.ts';
import { agent, heard, hostPort, type MachineSketch, subject, switchPort } from './sketch.ts';

const readAt = '2026-11-25T02:00:00.000Z';

function draftOf(...machines: readonly MachineSketch[]) {
  return makeDraft({ site: 'Saltmarsh survey office', readAt, subjects: machines.map(subject) });
}

const plot: MachineSketch = { name: 'plot-1', ports: { en7: hostPort(11) } };
const vault: MachineSketch = { name: 'vault', ports: { eth4: hostPort(2) } };

function quay(more: Partial<MachineSketch['more']> = {}): MachineSketch {
  return { name: 'quay-sw', by: agent, ports: { xg2: switchPort(), xg3: switchPort() }, more };
}

const told = quay({ neighbours: [heard('xg2', 'plot-1', 'en7'), heard('xg3', 'vault', 'eth4')] });

describe('links', () => {
  it('are known by LLDP of one end', () => {
    expect(draftOf(plot, vault, told).links).toEqual([
      {
        ends: ['plot-1:en7', 'quay-sw:xg2'],
        untagged: 'vlan-20',
        tagged: [],
        speedMbps: 10_000,
        known: 'LLDP on quay-sw only',
        questions: [],
      },
      {
        ends: ['vault:eth4', 'quay-sw:xg3'],
        untagged: 'vlan-20',
        tagged: [],
        speedMbps: 10_000,
        known: 'LLDP on quay-sw only',
        questions: [],
      },
    ]);
  });

  it('are known by LLDP of both', () => {
    const talks = { ...plot, more: { neighbours: [heard('en7', 'quay-sw', 'xg2')] } };
    expect(draftOf(talks, told).links.map(({ known }) => known)).toEqual(['LLDP on both ends']);
  });

  it('are known by the forwarding table where nothing announces itself', () => {
    const forwarding = [{ port: 'xg2', vlan: 20, macs: ['02:00:5e:00:00:11'] }];
    expect(draftOf(plot, quay({ forwarding })).links).toEqual([
      expect.objectContaining({
        ends: ['plot-1:en7', 'quay-sw:xg2'],
        known: 'MAC 02:00:5e:00:00:11 in the forwarding table of quay-sw',
      }),
    ]);
  });

  it('are none where several stations stand behind a port: a question is', () => {
    const forwarding = [
      { port: 'xg2', vlan: 20, macs: ['02:00:5e:00:00:11', '02:00:5e:00:00:02'] },
    ];
    const { links, questions } = draftOf(plot, vault, quay({ forwarding }));
    expect(links).toEqual([]);
    expect(questions[0]).toBe(
      'behind quay-sw:xg2 there are several stations (plot-1:en7, vault:eth4): a switch that nobody reads (unread: switch), or guests of one host (behind: N)?',
    );
  });

  it('leave out who was heard and not read, and ask', () => {
    const stranger = {
      ...heard('xg2', 'labeller', 'lan'),
      addresses: ['198.18.0.99'],
      frameMaxBytes: 1518,
    };
    expect(draftOf(quay({ neighbours: [stranger] })).questions[0]).toBe(
      'quay-sw:xg2 hears labeller (port lan) at 198.18.0.99, which was not read: read it too, or declare it unread; it says that its frames are 1518 bytes at most',
    );
  });

  it.each<[string, MachineSketch, string]>([
    [
      'where no switch hears it',
      plot,
      'what is plot-1 plugged into? no link of it was seen (up are plot-1:en7): read what it is plugged into, or add the link by hand',
    ],
    [
      'where its ports are down',
      { name: 'plot-1', ports: { en7: hostPort(11, { operUp: false }) } },
      'what is plot-1 plugged into? no link of it was seen (none of its ports is known to be up): read what it is plugged into, or add the link by hand',
    ],
    [
      'where it has no hardware',
      { name: 'plot-1', ports: { eth0: hostPort(11, { kind: 'virtual' }) } },
      'plot-1 has no port that takes a cord (wireless, a guest or a container?), so no link of it was looked for: add by hand what it hangs on',
    ],
  ])('that a node has none of is asked %s', (_, machine, question) => {
    const server = quay({ neighbours: [heard('xg3', 'vault', 'eth4')] });
    const { links, questions } = draftOf(machine, vault, server);
    expect(links.map(({ ends }) => ends)).toEqual([['vault:eth4', 'quay-sw:xg3']]);
    expect(questions[0]).toBe(question);
  });

  it('in an aggregate have its name, and one alone is none', () => {
    const ports = {
      eth4: hostPort(2, { aggregate: 'bond0', addresses: [] }),
      eth5: hostPort(3, { aggregate: 'bond0', addresses: [] }),
      bond0: {
        kind: 'bond',
        lowerPorts: ['eth4', 'eth5'],
        mtuBytes: 9000,
        addresses: ['198.18.20.2/24'],
      },
    };
    const both = quay({
      neighbours: [heard('xg2', 'vault', 'eth4'), heard('xg3', 'vault', 'eth5')],
    });
    const lags = (machine: MachineSketch) =>
      draftOf({ name: 'vault', ports }, machine).links.map(({ lag }) => lag);
    expect(lags(both)).toEqual(['vault-bond0', 'vault-bond0']);
    expect(lags(quay({ neighbours: [heard('xg2', 'vault', 'eth4')] }))).toEqual([undefined]);
  });
});

describe('what is not as it should be does not become what is meant', () => {
  it.each<
    [string, MachineSketch['ports'], MachineSketch['ports'], number | undefined, readonly string[]]
  >([
    [
      'a link slower than both ends can',
      { en7: hostPort(11, { speedMbps: 1000 }) },
      { xg2: switchPort({ speedMbps: 1000 }) },
      10_000,
      ['runs at 1G now; both ends can do 10G'],
    ],
    [
      'half duplex',
      { en7: hostPort(11, { duplex: 'half', speedMbps: 100 }) },
      { xg2: switchPort({ speedMbps: 100 }) },
      10_000,
      ['runs at 100M now; both ends can do 10G', 'plot-1:en7 runs in half duplex now'],
    ],
    [
      'ends at different speeds',
      { en7: hostPort(11, { speedMbps: 1000 }) },
      { xg2: switchPort() },
      10_000,
      [
        'plot-1:en7 runs at 1G, quay-sw:xg2 at 10G: is there a switch or converter between (unread: switch)?',
      ],
    ],
    [
      'a link that is down',
      { en7: { kind: 'physical', operUp: false, supportedModes: ['10000baseT/Full'] } },
      { xg2: switchPort() },
      10_000,
      ['plot-1:en7 has no link now'],
    ],
    [
      'ends that do not say what they can',
      { en7: hostPort(11, { supportedModes: [] }) },
      { xg2: switchPort({ supportedModes: [] }) },
      undefined,
      ['speed: 10G?  both ends run at it; what plot-1:en7 and quay-sw:xg2 can do is not known'],
    ],
  ])('%s', (_, host, ports, speedMbps, questions) => {
    const sw: MachineSketch = {
      name: 'quay-sw',
      by: agent,
      ports,
      more: { neighbours: [heard('xg2', 'plot-1', 'en7')] },
    };
    const [link] = draftOf({ name: 'plot-1', ports: host }, sw).links;
    expect(link?.speedMbps).toBe(speedMbps);
    expect(link?.questions).toEqual(questions);
  });

  it('two MTUs in one subnet stay open', () => {
    const small: MachineSketch = {
      name: 'vault',
      ports: { eth4: hostPort(2, { mtuBytes: 1500 }) },
    };
    const [segment] = draftOf(plot, small, told).segments;
    expect(segment).toEqual({
      name: 'vlan-20',
      vlan: 20,
      known: '198.18.20.0/24',
      questions: ['mtu: 1500 (vault) or 9000 (plot-1)?  one segment has one MTU'],
    });
  });
});

describe('segments and paths', () => {
  it('are of VLAN and subnet, with the MTU that all have', () => {
    expect(draftOf(plot, vault, told).segments).toEqual([
      { name: 'vlan-20', vlan: 20, mtuBytes: 9000, known: '198.18.20.0/24', questions: [] },
    ]);
    expect(draftOf(plot, vault).segments.map(({ name, vlan }) => [name, vlan])).toEqual([
      ['net-198.18.20.0-24', undefined],
    ]);
  });

  it('lead from a client to the file server that it has mounted', () => {
    const mounts = [{ server: '198.18.20.2', kind: 'nfs', at: '/plots' }] as const;
    expect(draftOf({ ...plot, more: { mounts } }, vault, told).paths).toEqual([
      {
        name: 'plot-1-to-vault',
        from: 'plot-1',
        to: 'vault',
        over: 'vlan-20',
        known: 'plot-1 has mounted it (nfs)',
      },
    ]);
  });

  it('are suggested where nothing is mounted', () => {
    const { paths, questions } = draftOf(plot, vault, told);
    expect(paths).toEqual([]);
    expect(questions).toEqual([
      'which way matters? such as: { from: plot-1, to: vault, over: vlan-20 }',
    ]);
  });
});

describe('the text', () => {
  const hostile = fc.constantFrom(
    'yes',
    '1e3',
    'a: b',
    "quote ' it",
    'double " it',
    '# no comment',
    '- item',
    '{ flow }',
    'line\nbreak: yes',
    '\u202Ereversed',
    '*anchor',
    '!tag',
    'with, comma ]',
    ' ',
    'Port 4',
    'x'.repeat(300),
  );

  it('is an intent that loads, whatever the devices call themselves', async () => {
    const machine = fc.tuple(hostile, hostile, hostile, fc.boolean());
    await fc.assert(
      fc.asyncProperty(fc.array(machine, { minLength: 1, maxLength: 4 }), async (sketches) => {
        const subjects = sketches.map(
          ([name, port, words, isSwitch], at): DraftSubject => ({
            ...subject({
              name: 'node',
              by: isSwitch ? agent : { via: 'ssh', name: 'ssh' },
              ports: { [port]: hostPort(10 + at, { alias: words }) },
              more: {
                facts: { systemName: name, systemText: words },
                neighbours: [heard(port, name, port), heard(port, words, words)],
                forwarding: [{ port, macs: ['02:00:5e:00:00:10', '02:00:5e:00:00:11'] }],
                mounts: [{ server: '198.18.20.10', kind: 'nfs', at: words }],
              },
            }),
            at: `node-${at}.office.example`,
          }),
        );
        const text = draftText(makeDraft({ site: 'unnamed site', readAt, subjects }));
        const loaded = await loadFrom({ 'site.yaml': text });
        expect(loaded.ok ? [] : loaded.faults).toEqual([]);
        if (loaded.ok) expect(loaded.value.nodes.length).toBeGreaterThan(0);
      }),
      { numRuns: 300 },
    );
  });

  it('tells all of who was not read, and what to do about it', () => {
    const seen = `the server takes ${'publickey and more '.repeat(10)}`.trim();
    const remedy = 'let user auditor in';
    const silent = subject({ name: 'plot-9', ports: {} });
    const readings = silent.survey.readings.map((reading) => ({
      ...reading,
      trouble: { kind: 'login-refused', seen, remedy } as const,
    }));
    const subjects = [subject(vault), { ...silent, survey: { ...silent.survey, readings } }];
    const draft = makeDraft({ site: 'unnamed site', readAt, subjects });
    const words = `plot-9.office.example was not read, so nothing of it is drafted: ${seen}; ${remedy}`;
    expect(draft.notRead).toEqual([words]);
    expect(draftText(draft)).toContain(`\n# ? ${words}\n`);
  });

  it('has what was found, and how, a link a line', () => {
    expect(draftText(draftOf(plot, vault, told))).toMatchInlineSnapshot(`
      "# A first intent, drafted by hopgauge from what was read on 2026-11-25T02:00:00.000Z.
      # Lines with '?' are questions: answer them, and correct what is not meant to be so.
      intent: 1
      site: Saltmarsh survey office

      access:
        switches: { snmp: { version: 3, user: auditor, secret: { auth: HOPGAUGE_AUTH, privacy: HOPGAUGE_PRIVACY }, auth: sha256, privacy: aes128 } }

      nodes:
        plot-1: { at: plot-1.office.example }
        quay-sw: { at: quay-sw.office.example, access: [ switches ] }
        vault: { at: vault.office.example }

      segments:
        vlan-20: { vlan: 20, mtu: 9000 }  # 198.18.20.0/24

      links:
        - { ends: [ plot-1:en7, quay-sw:xg2 ], untagged: vlan-20, speed: 10G }  # LLDP on quay-sw only; run: ?
        - { ends: [ vault:eth4, quay-sw:xg3 ], untagged: vlan-20, speed: 10G }  # LLDP on quay-sw only; run: ?

      policies: [essential, jumbo, cabling, signal]

      # ? which way matters? such as: { from: plot-1, to: vault, over: vlan-20 }
      "
    `);
  });
});
