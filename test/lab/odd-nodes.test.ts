import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit, brokenIn, causesIn, undeterminedIn } from './harness/audit.ts';
import { allowEthtool, disguise, setLine, undisguise } from './harness/disguise.ts';
import { type IntentDraft, intentFor } from './harness/intent.ts';
import {
  type Lab,
  restartSnmpd,
  restartSshd,
  settle,
  startLab,
  stopLab,
  stopSnmpd,
  stopSshd,
} from './harness/lab.ts';
import { ipBatch, mustInNs } from './harness/namespaces.ts';
import { macOf, planFor } from './harness/plan.ts';
import { linkDown } from './harness/topology.ts';
import { setHomeFile, setShell } from './harness/users.ts';

let lab: Lab;
beforeAll(async () => {
  lab = await startLab(planFor());
});
afterAll(() => stopLab(lab));

describe('a node that cannot be read, or says something odd', () => {
  interface Odd {
    readonly name: string;
    readonly given?: () => Promise<void>;
    readonly change?: (draft: IntentDraft) => void;
    readonly env?: Readonly<Record<string, string>>;
    /** Puts things right again. */
    readonly after?: () => Promise<void>;
    readonly status: 0 | 1 | 2;
    /** What is broken at or above a warning; absent: nothing. */
    readonly broken?: readonly string[];
    /** The causes of all that is broken or undetermined; absent: none. */
    readonly causes?: readonly string[];
    /** Some of what could not be judged. */
    readonly unknown?: readonly string[];
    /** Kind of trouble of a reading, by node. */
    readonly troubles?: Readonly<Record<string, string>>;
  }

  const unread = (node: string) => `node ${node}: undetermined`;
  const ports = (mtu: number) =>
    [1, 2, 3, 4, 5].map((index) => `override 1.3.6.1.2.1.2.2.1.4.${index} integer ${mtu}`);

  const rows: readonly Odd[] = [
    {
      name: 'a host interface is down',
      given: () => settle(lab, () => linkDown(lab, ['vault', 'eth0'])),
      after: () => settle(lab),
      status: 1,
      broken: ['port-enabled vault:eth0', 'port-up loft:xg1'],
      causes: ['link vault:eth0 - loft:xg1: broken'],
    },
    {
      name: 'an agent says half duplex at 100 Mb/s',
      given: async () => {
        const index = await indexOf('quay', 'xg1');
        await restartSnmpd(lab, 'quay', {
          lines: [
            `override 1.3.6.1.2.1.10.7.2.1.19.${index} integer 2`,
            `override 1.3.6.1.2.1.31.1.1.1.15.${index} uinteger 100`,
            `override 1.3.6.1.2.1.2.2.1.5.${index} uinteger 100000000`,
          ],
        });
      },
      change: (draft) => {
        for (const link of draft.links) link['speed'] = '100M';
      },
      after: () => restartSnmpd(lab, 'quay'),
      status: 1,
      // Many switches drop large packets at such ports (common practice), which is told beside it.
      broken: ['duplex-full quay:xg1', 'fast-enough-for-large quay:xg1'],
      causes: ['link plot:eth0 - quay:xg1: broken'],
    },
    {
      name: 'an agent says 1500 on all ports while 9000 pass',
      given: () => restartSnmpd(lab, 'quay', { lines: ports(1500) }),
      after: () => restartSnmpd(lab, 'quay'),
      status: 2,
      causes: ['mtu of quay: undetermined'],
      unknown: ['path-clearance plotting', 'port-clearance quay:xg1', 'port-clearance quay:xg8'],
    },
    {
      name: 'the sshd of a host is stopped',
      given: () => stopSshd(lab, 'vault'),
      after: () => restartSshd(lab, 'vault'),
      status: 2,
      causes: [unread('vault')],
      unknown: ['node-read vault', 'path-clearance plotting'],
      troubles: { vault: 'refused' },
    },
    {
      name: 'the agent of a switch is stopped',
      given: () => stopSnmpd(lab, 'loft'),
      after: () => restartSnmpd(lab, 'loft'),
      status: 2,
      causes: [unread('loft')],
      unknown: ['node-read loft', 'path-clearance plotting'],
      troubles: { loft: 'silent' },
    },
    {
      name: 'the community is wrong',
      change: byCommunity,
      env: { SALTMARSH_COMMUNITY: 'another-community' },
      status: 2,
      causes: [unread('loft'), unread('quay')],
      unknown: ['node-read loft', 'node-read quay', 'path-clearance plotting'],
      troubles: { loft: 'silent', quay: 'silent' },
    },
    {
      name: 'the privacy passphrase is wrong',
      env: { SALTMARSH_PRIV: 'another-privacy-passphrase' },
      status: 2,
      causes: [unread('loft'), unread('quay')],
      unknown: ['node-read loft', 'node-read quay', 'path-clearance plotting'],
      troubles: { loft: 'privacy-silent', quay: 'privacy-silent' },
    },
    {
      name: 'the authentication passphrase is wrong',
      env: { SALTMARSH_AUTH: 'another-authentication-passphrase' },
      status: 2,
      causes: [unread('loft'), unread('quay')],
      unknown: ['node-read loft', 'node-read quay', 'path-clearance plotting'],
      troubles: { loft: 'auth-wrong', quay: 'auth-wrong' },
    },
    {
      name: 'the host key has changed',
      given: () => restartSshd(lab, 'vault', { hostKey: 'second' }),
      after: () => restartSshd(lab, 'vault'),
      status: 1,
      broken: ['right-machine vault'],
      causes: ['node vault: broken'],
      troubles: { vault: 'host-key-changed' },
    },
    {
      name: 'another machine with the same host key is at the address',
      given: () => ipBatch(lab.machine('vault'), ['link set eth0 address 02:00:5e:00:77:77']),
      change: (draft) => {
        const mac = macOf(lab.plan, ['vault', 'eth0']);
        draft.nodes['vault'] = { ...draft.nodes['vault'], ports: { eth0: { name: 'eth0', mac } } };
      },
      after: () =>
        ipBatch(lab.machine('vault'), [
          `link set eth0 address ${macOf(lab.plan, ['vault', 'eth0'])}`,
        ]),
      status: 1,
      broken: ['right-machine vault'],
      causes: ['node vault: broken'],
    },
    {
      name: 'another switch is at the address',
      change: (draft) => {
        const engineId = `80001f8804${Buffer.from('quay').toString('hex')}`;
        draft.nodes['loft'] = { ...draft.nodes['loft'], identity: { engineId } };
      },
      status: 1,
      broken: ['right-machine loft'],
      causes: ['node loft: broken'],
    },
    ...['/usr/bin/fish', '/bin/csh', '/bin/rbash', '/bin/sh'].map(
      (shell): Odd => ({
        name: `the login shell is ${shell}`,
        given: async () => {
          for (const host of ['plot', 'vault']) setShell(lab, host, shell);
        },
        after: async () => {
          for (const host of ['plot', 'vault']) setShell(lab, host, '/bin/bash');
        },
        status: 0,
      }),
    ),
    {
      name: 'start files print before the answer',
      given: () => setHomeFile(lab, ['plot', '.bashrc'], 'echo Welcome to plot; echo "x" >&2\n'),
      after: () => setHomeFile(lab, ['plot', '.bashrc'], ''),
      status: 0,
    },
    {
      name: 'a forced command ignores what is asked',
      given: () => restartSshd(lab, 'plot', { forceCommand: 'sh -s' }),
      after: () => restartSshd(lab, 'plot'),
      status: 0,
    },
    {
      name: 'a forced command is something else',
      given: () => restartSshd(lab, 'plot', { forceCommand: 'echo closed for today' }),
      after: () => restartSshd(lab, 'plot'),
      status: 2,
      causes: [unread('plot')],
      unknown: ['node-read plot', 'path-clearance plotting'],
      troubles: { plot: 'no-marks' },
    },
    {
      name: 'the account may not run ethtool, and nothing else tells',
      given: async () => {
        await disguise(lab, ['plot', 'eth0'], { speedMbps: 10_000, duplex: 'Full' });
        await allowEthtool(lab, 'plot', false);
      },
      change: (draft) => {
        draft.access['hosts'] = { ssh: { user: 'plain', key: '~/.ssh/id_ed25519' } };
      },
      after: () => undisguise(lab, ['plot', 'eth0']),
      status: 0,
    },
    {
      name: 'a copper port negotiated 1 Gb/s of 10',
      given: async () => {
        await disguise(lab, ['plot', 'eth0'], { speedMbps: 10_000, duplex: 'Full' });
        await setLine(lab, 'plot', { speedMbps: 1000, duplex: 'Full' });
      },
      after: () => undisguise(lab, ['plot', 'eth0']),
      status: 1,
      broken: ['ends-same-speed plot:eth0 - quay:xg1', 'speed-as-declared plot:eth0'],
      causes: ['link plot:eth0 - quay:xg1: broken'],
    },
  ];

  it.each(rows)('$name', async (row) => {
    await row.given?.();
    try {
      const { status, report } = await audit(lab, intentFor(lab, row.change), {
        ...(row.env !== undefined && { env: row.env }),
      });
      expect(brokenIn(report)).toEqual(row.broken ?? []);
      expect(causesIn(report)).toEqual(row.causes ?? []);
      expect(undeterminedIn(report)).toEqual(expect.arrayContaining([...(row.unknown ?? [])]));
      expect(status).toBe(row.status);
      expect(report.faults).toEqual([]);
      const troubles = report.nodes.flatMap(({ name, readings }) =>
        readings.flatMap(({ trouble }) => (trouble ? [[name, trouble.kind]] : [])),
      );
      expect(Object.fromEntries(troubles)).toEqual(row.troubles ?? {});
    } finally {
      await row.after?.();
    }
  });

  function byCommunity(draft: IntentDraft): void {
    draft.access['switches'] = { snmp: { version: '2c', community: 'SALTMARSH_COMMUNITY' } };
  }

  async function indexOf(node: string, port: string): Promise<string> {
    const argv = ['cat', `/sys/class/net/${port}/ifindex`];
    return (await mustInNs(lab.machine(node), argv)).trim();
  }
});
