import { isIP } from 'node:net';
import { pathGiven } from '../../diagnose/place-figure.ts';
import { ceilingOf } from '../../ethernet/ceiling.ts';
import { standardPacketBytes } from '../../ethernet/frame-size.ts';
import { carriedBytes, usualStack } from '../../ethernet/goodput.ts';
import type { TransferProof } from '../../facts/proof.ts';
import { runTransfer, type TransferHost } from '../../probe/run-transfer.ts';
import { measuredOf } from '../../probe/transfer-measured.ts';
import { transferProof } from '../../probe/transfer-proof.ts';
import { transferCommands } from '../../probe/transfer-starter.ts';
import { drainSecondsMax, transferBytesMax } from '../../probe/transfer-types.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { rounded } from '../../report/figures.ts';
import { clean, wrap } from '../../report/layout.ts';
import { transferJson } from '../../report/transfer-json.ts';
import { notDone } from '../../report/transfer-not-done.ts';
import {
  reckon,
  type TransferDirection,
  type TransferResult,
  transferStatus,
} from '../../report/transfer-result.ts';
import { transferText } from '../../report/transfer-text.ts';
import { buildSite } from '../../site/build-site.ts';
import type { Site, SitePath } from '../../site/types.ts';
import type { Io } from '../io.ts';
import { keepProofs, requireKeeping } from '../keep-proofs.ts';
import { requireIntent } from '../load-inputs.ts';
import { sshDepsOf } from '../node-reader.ts';
import type { TransferOptions } from '../options.ts';
import { savedSurvey } from '../take-survey.ts';
import { type EndNames, loadablePath, transferHost } from '../transfer-ends.ts';
import { textLook, widthOf } from '../write-result.ts';

type Host = TransferHost & { readonly surveyed: boolean };

/** Loads a path that allows it with a bounded transfer and says what it carries. */
export async function transfer(names: EndNames, options: TransferOptions, io: Io): Promise<number> {
  const site = await declaredSite(options, io);
  const path = loadablePath(site, names);
  const keeping = { ...options, intent: site.intent };
  if (options.showCommands !== true) await requireKeeping(keeping, io);
  const ssh = sshDepsOf(io);
  try {
    const around = { site, ssh, io };
    const from = await transferHost(names.from, names.to, around);
    const to = await transferHost(names.to, names.from, around);
    const ways = [[from, to] as const, ...(options.bothWays === true ? [[to, from] as const] : [])];
    const bytesMax = options.atMost ?? bytesAllowed(path, options.for);
    const order: Order = { path, site, bytesMax, options, io };
    const say = options.showCommands === true ? io.stdout : io.stderr;
    if (options.showCommands === true || options.quiet !== true) {
      const lines = ways.flatMap((way) => announcement(way, order, widthOf(say)));
      say.write(`${lines.join('\n')}\n`);
    }
    if (options.showCommands === true) return showCommands(io);
    const { result, proofs } = await measure(ways, order);
    io.stdout.write(
      options.format === 'json'
        ? transferJson(result, proofs)
        : transferText(result, textLook(undefined, io)),
    );
    await keepProofs({ fits: [], transfers: proofs }, keeping, io);
    return transferStatus(result);
  } finally {
    ssh.jumps.close();
  }
}

async function declaredSite(options: TransferOptions, io: Io): Promise<Site> {
  const intent = await requireIntent(options.intent, io);
  const file = options.survey ?? options.into;
  const survey = file === undefined ? undefined : await savedSurvey(file, io);
  return buildSite(intent, survey, { strict: false });
}

interface Order {
  readonly path: SitePath;
  readonly site: Site;
  readonly bytesMax: number;
  readonly options: TransferOptions;
  readonly io: Io;
}

/** Rate that is taken for a path of which no speed is known, in Mb/s. */
const rateMbpsUnknown = 10_000;

/** What the path can carry in the time: a cap for a clock that goes wrong, not a limit. */
function bytesAllowed(path: SitePath, seconds: number): number {
  const { rateMbps = rateMbpsUnknown, packetBytes = standardPacketBytes } = pathGiven(path);
  const { goodputMbps } = ceilingOf({ rateMbps, packetBytes, stack: usualStack });
  return Math.min(transferBytesMax, Math.ceil(carriedBytes(goodputMbps, seconds)));
}

/** What is about to be sent: one line that says what and whither, and one for each thing to know. */
function announcement(
  [from, to]: readonly [Host, Host],
  { options, bytesMax, path }: Order,
  width: number,
): readonly string[] {
  const how = options.streams === 1 ? 'one connection' : `${options.streams} connections`;
  const head = `${from.name} (${from.address}) to ${to.name} (${to.address}): TCP over ${how}, ${options.for} s or ${rounded(bytesMax / 1e9, 3)} GB, whichever comes first, to a port that the system chooses`;
  const toKnow = [
    `both ends end by themselves, ${drainSecondsMax} s later at the latest`,
    `this loads the path ${path.id} and all that shares it`,
    ...([from, to].every(({ surveyed }) => surveyed)
      ? []
      : ['the addresses are those of `at`; with --survey FILE those that the path uses']),
  ];
  return [
    ...wrap('', clean(head), width),
    ...toKnow.flatMap((words) => wrap('  ', clean(words), width)),
  ];
}

function showCommands(io: Io): number {
  const lines = [
    '',
    'each of the two is sent one script on the standard input of `sh -s`, and its program; they can run:',
    ...transferCommands.map(({ command, on, reads }) => {
      return `  ${clean(`${command} (${on === 'all' ? 'all systems' : on}: ${reads})`)}`;
    }),
    '',
    'nothing was sent',
  ];
  io.stdout.write(`${lines.join('\n')}\n`);
  return exitStatuses.met;
}

async function measure(
  ways: readonly (readonly [Host, Host])[],
  order: Order,
): Promise<{ readonly result: TransferResult; readonly proofs: readonly TransferProof[] }> {
  const { path, io } = order;
  const directions: TransferDirection[] = [];
  const proofs: TransferProof[] = [];
  for (const way of ways) {
    if (io.signal.aborted) break;
    const direction = await measureOne(way, order);
    directions.push(direction);
    if (!direction.ok) continue;
    const { toAddress, measured } = direction;
    const proof = transferProof(measured, { toAddress, at: io.now() });
    if (proof !== undefined) proofs.push(proof);
  }
  const wanted = path.declared.goodputMbps;
  return {
    proofs,
    result: {
      path: path.id,
      directions,
      interrupted: io.signal.aborted,
      ...(wanted === undefined ? {} : { declaredMbps: wanted }),
    },
  };
}

async function measureOne(
  [from, to]: readonly [Host, Host],
  order: Order,
): Promise<TransferDirection> {
  const { path, site, bytesMax, options, io } = order;
  const run = await runTransfer({
    ...{ from, to, bytesMax, seconds: options.for, streams: options.streams, signal: io.signal },
    onListen: (listener, address, port) => {
      if (options.quiet === true) return;
      io.stderr.write(`${clean(`${listener} listens on ${address} port ${port}`)}\n`);
    },
  });
  const way = { from: from.name, to: to.name, toAddress: to.address };
  const measured = measuredOf(run, way);
  if (measured === undefined) return { ...way, ok: false, ...notDone(run, way) };
  const ipVersion = isIP(to.address) === 6 ? 6 : 4;
  const reckoned = reckon(measured, path, { ipVersion, directions: site.directions });
  return { ...way, ok: true, measured, reckoned };
}
