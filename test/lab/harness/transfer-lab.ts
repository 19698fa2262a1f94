import { realpathSync } from 'node:fs';
import type { z } from 'zod';
import { parseJson } from '../../../src/facts/json.ts';
import { transferSchema } from '../../../src/report/transfer-schema.ts';
import { hopgauge, writeRunFile } from './cli.ts';
import { intentFor } from './intent.ts';
import { type Lab, restartSshd } from './lab.ts';
import { mustInNs } from './namespaces.ts';
import { planFor } from './plan.ts';
import { writeKnownHosts } from './sshd.ts';
import { buildTopology } from './topology.ts';
import { addAccounts } from './users.ts';

/** Two hosts between which data may be sent. */
export interface TransferLab {
  readonly lab: Lab;
  /** Intent whose path allows the load. */
  readonly intent: string;
  /** The same without leave. */
  readonly refused: string;
}

export async function transferLab(): Promise<TransferLab> {
  const topology = await buildTopology(planFor());
  const lab: Lab = { ...topology, daemons: new Map() };
  await addAccounts(lab);
  await Promise.all(['plot', 'vault'].map((node) => restartSshd(lab, node)));
  await writeKnownHosts(lab);
  // The kernel of the build machine may have one that probes now and then with an idle line.
  for (const node of ['plot', 'vault']) {
    const setting = 'net.ipv4.tcp_congestion_control=reno';
    await mustInNs(lab.machine(node), ['sysctl', '-qw', setting]);
  }
  const allowed = intentFor(lab, (draft) => {
    Object.assign(draft.paths['plotting'] ?? {}, { load: 'allowed' });
  });
  return {
    lab,
    intent: writeRunFile(lab, 'saltmarsh.yaml', allowed),
    refused: writeRunFile(lab, 'refused.yaml', intentFor(lab)),
  };
}

export interface TransferDone {
  readonly code: number | null;
  readonly stderr: string;
  readonly told: z.output<typeof transferSchema>;
}

/** A transfer of 3 s from plot to vault, and what was told of it. */
export async function transfer(
  { lab, intent }: TransferLab,
  args: readonly string[],
): Promise<TransferDone> {
  const words = ['transfer', 'plot', 'vault', '--intent', intent, '--format', 'json', '--for', '3'];
  const { stdout, stderr, code } = await hopgauge(lab, [...words, ...args]);
  try {
    return { code, stderr, told: transferSchema.parse(parseJson(stdout)) };
  } catch (error) {
    throw new Error(`lab: no result, status ${code}: ${stderr}\n${stdout}`, { cause: error });
  }
}

/** What was measured in one direction; throws where nothing was. */
export function measured({ told }: TransferDone, at = 0) {
  const found = told.directions[at]?.measured;
  if (found === undefined) throw new Error(`lab: not measured: ${JSON.stringify(told)}`);
  return found;
}

/** Programs that can carry a transfer, as they lie on this machine and so on every host of the lab. */
export const interpreters = ['perl', 'python3'].map((name) => realpathSync(`/usr/bin/${name}`));

/** Runs something while programs are not there for anybody on the hosts, both unless named. */
export async function withHidden<T>(
  { lab }: TransferLab,
  files: readonly string[],
  work: () => Promise<T>,
  nodes: readonly string[] = ['plot', 'vault'],
): Promise<T> {
  for (const node of nodes) {
    for (const file of files) {
      await mustInNs(lab.machine(node), ['mount', '--bind', '/dev/null', file]);
    }
  }
  try {
    return await work();
  } finally {
    for (const node of nodes) {
      for (const file of files) await mustInNs(lab.machine(node), ['umount', file]);
    }
  }
}
