import { fitAgainstFacts } from '../../diagnose/fit-against-facts.ts';
import type { FitProof } from '../../facts/proof.ts';
import { fitCommands } from '../../probe/fit-commands.ts';
import { planFor, planOf, wantedBytes } from '../../probe/fit-plan.ts';
import { fitProof } from '../../probe/fit-proof.ts';
import { type FitPlan, fitPacketsMax } from '../../probe/fit-types.ts';
import { settleFits, standTogether } from '../../probe/settle-fits.ts';
import { windowsFitCommands } from '../../probe/windows-fit-script.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { fitJson } from '../../report/fit-json.ts';
import { type FitPair, fitText } from '../../report/fit-text.ts';
import { clean } from '../../report/layout.ts';
import { buildSite } from '../../site/build-site.ts';
import type { Site } from '../../site/types.ts';
import { bothWays, type EndNames, type EndsAround, here, type OneWay } from '../fit-ends.ts';
import { checkSizes, declaredBytes, type PairToFit, pairsToFit } from '../fit-pairs.ts';
import { fitWay } from '../fit-way.ts';
import type { Io } from '../io.ts';
import { keepProofs, requireKeeping } from '../keep-proofs.ts';
import { hasDefaultIntent, requireIntent } from '../load-inputs.ts';
import { sshDepsOf } from '../node-reader.ts';
import type { FitOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { interrupted, savedSurvey } from '../take-survey.ts';
import { textLook } from '../write-result.ts';

/**
 * Sends a few packets both ways and says which sizes pass, and why not. One pair of ends after the
 * other and one direction at a time: nothing else is loaded meanwhile, and no node sends for two.
 */
export async function fitCommand(
  ends: Partial<EndNames>,
  options: FitOptions,
  io: Io,
): Promise<number> {
  checkSizes(options);
  const site = await declaredSite(options, io);
  const keeping = { into: options.into, store: options.store, intent: site?.intent };
  requireKeeping(keeping);
  const ssh = sshDepsOf(io);
  try {
    const trials = await trialsOf(pairsToFit(ends, options, site), { site, ssh, io });
    announce(trials, options, io);
    if (options.showCommands === true) return exitStatuses.met;
    const pairs: FitPair[] = [];
    for (const trial of trials) pairs.push(await tryPair(trial, { options, site, io }));
    const proofs = proofsOf(pairs);
    const look = { ...textLook(undefined, io), verbose: options.verbose === true };
    const text = options.format === 'json' ? fitJson(pairs, proofs) : fitText(pairs, look);
    io.stdout.write(text);
    await keepProofs({ fits: proofs, transfers: [] }, keeping, io);
    return statuses[standTogether(pairs.flatMap(({ directions }) => directions))];
  } finally {
    ssh.jumps.close();
  }
}

const statuses = {
  met: exitStatuses.met,
  broken: exitStatuses.broken,
  undetermined: exitStatuses.undetermined,
} as const;

/** What is worth keeping: the newest proof of each direction in which something was sent. */
function proofsOf(pairs: readonly FitPair[]): readonly FitProof[] {
  return pairs.flatMap(({ directions }) =>
    directions.flatMap((direction) => fitProof(direction) ?? []),
  );
}

/** A pair of ends with both its ways. */
interface Trial {
  readonly pair: PairToFit;
  readonly ways: readonly [OneWay, OneWay];
}

async function trialsOf(
  pairs: readonly PairToFit[],
  around: EndsAround,
): Promise<readonly Trial[]> {
  const trials: Trial[] = [];
  for (const pair of pairs) trials.push({ pair, ways: await bothWays(pair, around) });
  const [first] = trials;
  if (first !== undefined && trials.every(({ ways }) => !ways.some(canSend))) {
    throw noWay(first.pair, trials.length);
  }
  return trials;
}

function canSend({ run, toAddress }: OneWay): boolean {
  return run !== undefined && toAddress !== undefined;
}

interface TrialAround {
  readonly options: FitOptions;
  readonly site: Site | undefined;
  readonly io: Io;
}

async function tryPair({ pair, ways }: Trial, around: TrialAround): Promise<FitPair> {
  const { options, site, io } = around;
  const there = await fitWay(ways[0], planAt(pair, ways[0], options), io);
  const back = await fitWay(ways[1], planAt(pair, ways[1], options), io);
  if (io.signal.aborted) throw interrupted();
  const wanted = wantedBytes(planAt(pair, ways[0], options));
  const directions = settleFits([there, back], wanted);
  const { path } = pair;
  return {
    ...{ from: pair.from, to: pair.to, wantedBytes: wanted, directions },
    ...(path === undefined ? {} : { path: path.id }),
    reasons:
      path === undefined || site === undefined ? [] : fitAgainstFacts(site, path, directions),
  };
}

function planAt(pair: PairToFit, { toAddress = '' }: OneWay, { size }: FitOptions): FitPlan {
  return size.length > 0 ? planOf(size, toAddress) : planFor(declaredBytes(pair), toAddress);
}

async function declaredSite(options: FitOptions, io: Io): Promise<Site | undefined> {
  if (options.intent === undefined && !(await hasDefaultIntent(io))) return undefined;
  const intent = await requireIntent(options.intent, io);
  const survey = options.survey === undefined ? undefined : await savedSurvey(options.survey, io);
  return buildSite(intent, survey, { strict: false });
}

/** Says what is about to be sent, before it is. */
function announce(trials: readonly Trial[], options: FitOptions, io: Io): void {
  const lines = trials.flatMap(({ pair, ways }) =>
    ways.filter(canSend).map((way) => sendingWords(way, planAt(pair, way, options))),
  );
  const most = lines.length * fitPacketsMax;
  const all =
    trials.length > 1
      ? [`${trials.length} pairs of ends, one after the other: at most ${most} packets in all`]
      : [];
  const text = [...all, ...lines].map((line) => `${clean(line)}\n`).join('');
  if (options.showCommands === true) io.stdout.write(`${text}${commandLines()}nothing was sent\n`);
  else if (options.quiet !== true) io.stderr.write(text);
}

/** What the script can run on a host, as lists say it that tests hold the script to. */
function commandLines(): string {
  const unix = fitCommands.map(({ command, on, reads }) => `  ${command}  (${on}: ${reads})`);
  const windows = windowsFitCommands.map(({ command, reads }) => `  ${command}  (${reads})`);
  const head = 'each host is sent one script on the standard input of `sh -s`, which can run:';
  return `${[head, ...unix, 'on Windows it can use:', ...windows].join('\n')}\n`;
}

function sendingWords({ from, toAddress }: OneWay, { risingBytes, nearBytes }: FitPlan): string {
  const near =
    nearBytes.length === 0
      ? ''
      : ` and, where the last is lost, of some of ${nearBytes.join(', ')}`;
  return `from ${from} to ${toAddress}: at most ${fitPacketsMax} echo requests, one after the other, of ${risingBytes.join(', ')} bytes${near}; not to be cut in pieces`;
}

function noWay({ from, to }: EndNames, pairs: number): RunFault {
  const between = pairs > 1 ? `any of ${pairs} pairs of ends` : `${from} and ${to}`;
  return new RunFault(exitStatuses.usage, [
    clean(
      `nothing can be sent between ${between}: one of them must be a host with SSH or '${here}', and the other must have an address`,
    ),
  ]);
}
