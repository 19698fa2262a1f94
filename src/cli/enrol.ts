import type { HostKeyOffer } from '../collect/ssh/door-steps.ts';
import { appendKnownHost } from '../collect/ssh/known-hosts-file.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import type { Io } from './io.ts';
import { RunFault } from './run-fault.ts';

/** A host key that is offered for enrolment, with the node that showed it. */
export interface NodeOffer extends HostKeyOffer {
  readonly node: string;
}

/**
 * Shows the fingerprints of host keys that nobody knows, and records them after a typed yes on a
 * terminal. Without a terminal nothing is recorded: a yes that nobody gave vouches for nothing.
 */
export async function enrol(offers: readonly NodeOffer[], io: Io): Promise<void> {
  if (offers.length === 0) {
    io.stdout.write('no new host key to record\n');
    return;
  }
  const lines = offers.map(({ node, keyType, fingerprint, file }) =>
    clean(`  ${node}: ${keyType} ${fingerprint}, for ${file}`),
  );
  io.stdout.write(
    `\nnew host keys; compare each with what its machine says of itself\n(ssh-keygen -lf /etc/ssh/ssh_host_ed25519_key.pub):\n${lines.map((line) => `  ${line}`).join('\n')}\n`,
  );
  if (io.askLine === undefined) {
    io.stdout.write('nothing recorded: that needs a yes on a terminal\n');
    return;
  }
  const answer = await io.askLine(`record ${offers.length} of them? type yes: `);
  if (answer?.trim() !== 'yes') {
    io.stdout.write('nothing recorded\n');
    return;
  }
  // One after another: each append replaces the whole file.
  for (const offer of offers) await record(offer);
  io.stdout.write(`${offers.length} recorded; run hopgauge access again\n`);
}

async function record({ file, line }: NodeOffer): Promise<void> {
  try {
    await appendKnownHost(file, line);
  } catch (error) {
    const words = error instanceof Error ? error.message : String(error);
    throw new RunFault(exitStatuses.cannotWrite, [
      clean(`${file}: the host key was not recorded: ${words}`),
    ]);
  }
}
