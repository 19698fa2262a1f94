import { isIP } from 'node:net';
import { localRunner } from '../collect/local/local-runner.ts';
import type { SshDeps } from '../collect/ssh/ssh-deps.ts';
import type { RunScript } from '../collect/types.ts';
import { nearestWord } from '../intent/nearest.ts';
import type { Intent } from '../intent/types.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import type { Site } from '../site/types.ts';
import type { Io } from './io.ts';
import { resolveName, runnerOf } from './node-reader.ts';
import { RunFault } from './run-fault.ts';

/** The word for the machine that hopgauge runs on. */
export const here = 'here';

/** One direction of a fit: how to run a script at its sender, and the address to send to. */
export interface OneWay {
  readonly from: string;
  readonly to: string;
  /** Absent: no script can be run there, so nothing is sent from it. */
  readonly run?: RunScript | undefined;
  /** Absent: nothing can be sent to it. */
  readonly toAddress?: string | undefined;
}

/** Names of two ends, as the operator or the intent gives them. */
export interface EndNames {
  readonly from: string;
  readonly to: string;
}

/** What ends are found with. */
export interface EndsAround {
  readonly site: Site | undefined;
  readonly io: Io;
  readonly ssh: SshDeps;
}

interface End {
  readonly name: string;
  readonly run?: RunScript;
  readonly address?: string;
}

/** Both directions between two ends. */
export async function bothWays(
  names: EndNames,
  around: EndsAround,
): Promise<readonly [OneWay, OneWay]> {
  const from = await endOf(names.from, around);
  const to = await endOf(names.to, around);
  const way = (sender: End, receiver: End): OneWay => ({
    from: sender.name,
    to: receiver.name,
    run: sender.run,
    toAddress: addressFor(sender.name, receiver, around.site),
  });
  return [way(from, to), way(to, from)];
}

async function endOf(name: string, { site, ssh, io }: EndsAround): Promise<End> {
  if (name === here) return { name, run: localRunner() };
  const node = site?.intent.nodes.find((each) => each.name === name);
  if (node === undefined) {
    if (isIP(name) !== 0 && !name.includes('%')) return { name, address: name };
    throw unknownEnd(name, site?.intent);
  }
  const run = runnerOf(node, ssh);
  const address = node.at === undefined ? undefined : await resolveName(node.at, io);
  return {
    name,
    ...(run === undefined ? {} : { run }),
    ...(address === undefined ? {} : { address }),
  };
}

/** The address that the survey says the path uses, else that of the node's name. */
function addressFor(sender: string, receiver: End, site: Site | undefined): string | undefined {
  const direction = site?.directions.find(
    ({ from, to }) => from === sender && to === receiver.name,
  );
  const surveyed = direction?.subject.facts['toAddress'];
  const address = typeof surveyed === 'string' ? surveyed : receiver.address;
  return address !== undefined && isIP(address) !== 0 && !address.includes('%')
    ? address
    : undefined;
}

function unknownEnd(name: string, intent: Intent | undefined): RunFault {
  const shown = clean(name).slice(0, 80);
  const near = nearestWord(name, intent?.nodes.map((node) => node.name) ?? []);
  const [file] = intent?.files ?? [];
  const where = file === undefined ? '' : ` in ${clean(file)}`;
  const remedy =
    near === undefined ? `give a node of the intent, an address, or '${here}'` : `write '${near}'`;
  return new RunFault(exitStatuses.usage, [`no node '${shown}'${where}; ${remedy}`]);
}
