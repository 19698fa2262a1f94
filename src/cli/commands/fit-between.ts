import { isIP } from 'node:net';
import { localRunner } from '../../collect/local/local-runner.ts';
import type { SshDeps } from '../../collect/ssh/ssh-deps.ts';
import { sshRunner } from '../../collect/ssh/ssh-runner.ts';
import { defaultReadLimits, type RunScript } from '../../collect/types.ts';
import { standardPacketBytes } from '../../ethernet/frame-size.ts';
import type { FitProof } from '../../facts/proof.ts';
import { nearestWord } from '../../intent/nearest.ts';
import type { DeclaredNode, Intent } from '../../intent/types.ts';
import { fitSizesMax, packetsPerSize } from '../../probe/fit-types.ts';
import { runFit } from '../../probe/run-fit.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { type FitDirection, type FitResult, fits, fitText } from '../../report/fit-text.ts';
import { clean } from '../../report/layout.ts';
import { buildSite } from '../../site/build-site.ts';
import type { Site, SitePath } from '../../site/types.ts';
import { fitProofOf } from '../fit-pair.ts';
import type { Io } from '../io.ts';
import { keepProofs, requireKeeping } from '../keep-proofs.ts';
import { hasDefaultIntent, requireIntent } from '../load-inputs.ts';
import { resolveName, sshDepsOf, sshTargetOf } from '../node-reader.ts';
import type { FitOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { interrupted, savedSurvey } from '../take-survey.ts';
import { textLook } from '../write-result.ts';

/** The word for the machine that hopgauge runs on. */
export const here = 'here';
/** Size that is tried where nothing is declared. */
const jumboPacketBytes = 9000;

/** One end of a fit: how to run a script there, and the address to send to. */
interface End {
  readonly name: string;
  /** Absent: no script can be run there, so nothing is sent from it. */
  readonly run?: RunScript;
  /** Absent: nothing can be sent to it. */
  readonly address?: string;
}

/** Sends a few packets both ways and says which sizes pass. The only command that sends any. */
export async function fitBetween(names: EndNames, options: FitOptions, io: Io): Promise<number> {
  const site = await declaredSite(options, io);
  const path = site && pathBetween(site, names);
  const sizesBytes = sizesOf(options, path);
  const keeping = { into: options.into, store: options.store, intent: site?.intent };
  requireKeeping(keeping);
  const ssh = sshDepsOf(io);
  try {
    const around = { site, ssh, io };
    const ways = await waysBetween(names, around);
    if (ways.every(({ run, toAddress }) => run === undefined || toAddress === undefined)) {
      throw noWay(names);
    }
    for (const way of ways) announce(way, sizesBytes, { options, io });
    if (options.showCommands === true) return exitStatuses.met;
    const directions: FitDirection[] = [];
    for (const way of ways) directions.push(await tryWay(way, sizesBytes, io));
    const result: FitResult = { directions, ...(path === undefined ? {} : { path }) };
    const look = { ...textLook(undefined, io), verbose: options.verbose === true };
    io.stdout.write(fitText(result, look));
    await keepProofs({ fits: proofsOf(directions, io), transfers: [] }, keeping, io);
    return statusOf(fits(result));
  } finally {
    ssh.jumps.close();
  }
}

function proofsOf(directions: readonly FitDirection[], io: Io): readonly FitProof[] {
  return directions.flatMap(({ from, to, outcome }) =>
    outcome.ok ? [fitProofOf({ from, to }, outcome.fit, io.now())] : [],
  );
}

interface EndNames {
  readonly from: string;
  readonly to: string;
}

function statusOf(passes: boolean | undefined): number {
  if (passes === undefined) return exitStatuses.undetermined;
  return passes ? exitStatuses.met : exitStatuses.broken;
}

/** One direction. */
interface Way {
  readonly from: string;
  readonly to: string;
  readonly run?: RunScript | undefined;
  readonly toAddress?: string | undefined;
}

async function waysBetween(names: EndNames, around: Around): Promise<readonly Way[]> {
  const from = await endOf(names.from, around);
  const to = await endOf(names.to, around);
  const way = (sender: End, receiver: End): Way => ({
    from: sender.name,
    to: receiver.name,
    run: sender.run,
    toAddress: addressFor(sender.name, receiver, around.site),
  });
  return [way(from, to), way(to, from)];
}

async function tryWay(way: Way, sizesBytes: readonly number[], io: Io): Promise<FitDirection> {
  const { from, to, run, toAddress } = way;
  if (run === undefined || toAddress === undefined) {
    const seen =
      run === undefined ? `nothing can be run on ${from}` : `no address of ${to} is known`;
    const remedy =
      run === undefined ? 'give it an SSH access, or try from its side' : 'name it in the intent';
    const outcome = { ok: false, trouble: { kind: 'fault', seen, remedy } } as const;
    return { from, to, ...(toAddress === undefined ? {} : { toAddress }), outcome };
  }
  const outcome = await runFit(run, { toAddress, sizesBytes }, defaultReadLimits, io.signal);
  if (io.signal.aborted) throw interrupted();
  return { from, to, toAddress, outcome };
}

async function declaredSite(options: FitOptions, io: Io): Promise<Site | undefined> {
  if (options.intent === undefined && !(await hasDefaultIntent(io))) return undefined;
  const intent = await requireIntent(options.intent, io);
  const survey = options.survey === undefined ? undefined : await savedSurvey(options.survey, io);
  return buildSite(intent, survey, { strict: false });
}

function pathBetween(site: Site, { from, to }: EndNames): SitePath | undefined {
  return site.paths.find(
    (path) => (path.from === from && path.to === to) || (path.from === to && path.to === from),
  );
}

function sizesOf({ size }: FitOptions, path: SitePath | undefined): readonly number[] {
  if (size.length > fitSizesMax) {
    throw new RunFault(exitStatuses.usage, [`at most ${fitSizesMax} sizes; leave some out`]);
  }
  const declared = path?.subject.facts['declaredMtuBytes'];
  const large = typeof declared === 'number' ? declared : jumboPacketBytes;
  const wanted = size.length > 0 ? size : [standardPacketBytes, large];
  return [...new Set(wanted)].sort((a, b) => a - b);
}

interface Around {
  readonly site: Site | undefined;
  readonly io: Io;
  readonly ssh: SshDeps;
}

async function endOf(name: string, { site, ssh, io }: Around): Promise<End> {
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

function runnerOf(node: DeclaredNode, ssh: SshDeps): RunScript | undefined {
  for (const access of node.access) {
    if (access.via === 'local') return localRunner();
    if (access.via === 'ssh') {
      return sshRunner(sshTargetOf(node, access, node.identity.hostKey), ssh);
    }
  }
  return undefined;
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

/** Says what is about to be sent, before it is. */
function announce(
  { from, toAddress, run }: Way,
  sizes: readonly number[],
  { options, io }: { readonly options: FitOptions; readonly io: Io },
): void {
  if (run === undefined || toAddress === undefined) return;
  const words = `from ${from} to ${toAddress}: up to ${packetsPerSize} echo requests each of ${sizes.join(', ')} bytes, not to be fragmented`;
  if (options.showCommands === true) io.stdout.write(`${clean(words)}; nothing was sent\n`);
  else if (options.quiet !== true) io.stderr.write(`${clean(words)}\n`);
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

function noWay({ from, to }: EndNames): RunFault {
  return new RunFault(exitStatuses.usage, [
    clean(
      `nothing can be sent between ${from} and ${to}: one of them must be a host with SSH or '${here}', and the other must have an address`,
    ),
  ]);
}
