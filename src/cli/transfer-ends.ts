import { isIP } from 'node:net';
import { localTalk } from '../collect/local/local-talk.ts';
import type { SshDeps } from '../collect/ssh/ssh-deps.ts';
import { sshTalker } from '../collect/ssh/ssh-talk.ts';
import type { OpenTalk } from '../collect/talk.ts';
import { nearestWord } from '../intent/nearest.ts';
import type { DeclaredNode } from '../intent/types.ts';
import type { TransferHost } from '../probe/run-transfer.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import type { Site, SitePath } from '../site/types.ts';
import type { Io } from './io.ts';
import { resolveName, sshTargetOf } from './node-reader.ts';
import { RunFault } from './run-fault.ts';

/** The two nodes of a transfer, as the operator named them. */
export interface EndNames {
  readonly from: string;
  readonly to: string;
}

/** The declared path between two nodes that may be loaded; ends the run where there is none. */
export function loadablePath(site: Site, { from, to }: EndNames): SitePath {
  const [file = 'the intent'] = site.intent.files;
  const names = site.intent.nodes.map(({ name }) => name);
  const stranger = [from, to].find((name) => !names.includes(name));
  if (stranger !== undefined) {
    const near = nearestWord(stranger, names);
    const remedy = near === undefined ? 'give a node of the intent' : `write '${near}'`;
    throw refused(exitStatuses.usage, `no node '${stranger.slice(0, 80)}' in ${file}; ${remedy}`);
  }
  const between = site.paths.filter(
    (path) => (path.from === from && path.to === to) || (path.from === to && path.to === from),
  );
  const allowed = between.find(({ declared }) => declared.load === 'allowed');
  if (allowed !== undefined) return allowed;
  const [path] = between;
  if (path === undefined) {
    throw refused(
      exitStatuses.input,
      `${file}: no path between ${from} and ${to}; declare one under paths: and write load: allowed in it, if it may be loaded`,
    );
  }
  const { place, name } = path.declared;
  throw refused(
    exitStatuses.input,
    `${place.file}:${place.line}:${place.column}: path ${name} does not allow that it is loaded; write load: allowed in it, if everything that uses it can bear that`,
  );
}

interface Around {
  readonly site: Site;
  readonly ssh: SshDeps;
  readonly io: Io;
}

/** A host of a transfer, and where its address is from; ends the run where it can be none. */
export async function transferHost(
  name: string,
  other: string,
  { site, ssh, io }: Around,
): Promise<TransferHost & { readonly surveyed: boolean }> {
  const node = site.intent.nodes.find((each) => each.name === name);
  const open = node === undefined ? undefined : talkerOf(node, ssh);
  if (node === undefined || open === undefined) {
    throw refused(
      exitStatuses.usage,
      `nothing can be run on ${name}: a transfer needs SSH to both ends; give the node an SSH access`,
    );
  }
  const direction = site.directions.find(({ from, to }) => from === other && to === name);
  const known = direction?.subject.facts['toAddress'];
  const surveyed = typeof known === 'string';
  const address = surveyed
    ? known
    : node.at === undefined
      ? undefined
      : await resolveName(node.at, io);
  if (address === undefined || isIP(address) === 0 || address.includes('%')) {
    throw refused(exitStatuses.usage, `no address of ${name} is known; write at: in the intent`);
  }
  return { name, address, open, surveyed };
}

function talkerOf(node: DeclaredNode, ssh: SshDeps): OpenTalk | undefined {
  for (const access of node.access) {
    if (access.via === 'local') return localTalk;
    if (access.via === 'ssh')
      return sshTalker(sshTargetOf(node, access, node.identity.hostKey), ssh);
  }
  return undefined;
}

function refused(status: number, line: string): RunFault {
  return new RunFault(status, [clean(line)]);
}
