import { fitAgainstFacts } from '../diagnose/fit-against-facts.ts';
import { planFor, planOf, wantedBytes } from '../probe/fit-plan.ts';
import type { FitPlan } from '../probe/fit-types.ts';
import { settleFits } from '../probe/settle-fits.ts';
import { exitStatuses } from '../report/exit-status.ts';
import type { FitPair } from '../report/fit-text.ts';
import { clean } from '../report/layout.ts';
import type { Site } from '../site/types.ts';
import { bothWays, type EndNames, type EndsAround, here, type OneWay } from './fit-ends.ts';
import { declaredBytes, type PairToFit } from './fit-pairs.ts';
import { fitWay } from './fit-way.ts';
import type { Io } from './io.ts';
import type { FitOptions } from './options.ts';
import { RunFault } from './run-fault.ts';

/** A pair of ends with both its ways. */
export interface Trial {
  readonly pair: PairToFit;
  readonly ways: readonly [OneWay, OneWay];
}

/** Finds the ends of all pairs; ends the run where from none of them anything can be sent. */
export async function trialsOf(
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

/** Whether something can be sent in this direction. */
export function canSend({ run, toAddress }: OneWay): boolean {
  return run !== undefined && toAddress !== undefined;
}

interface TrialAround {
  readonly options: Pick<FitOptions, 'size'>;
  readonly site: Site | undefined;
  readonly io: Pick<Io, 'now' | 'signal'>;
}

/** Tries one pair after the other; those that were tried to their end when the operator interrupts. */
export async function tryAll(
  trials: readonly Trial[],
  around: TrialAround,
): Promise<readonly FitPair[]> {
  const pairs: FitPair[] = [];
  for (const trial of trials) {
    if (around.io.signal.aborted) break;
    const pair = await tryPair(trial, around);
    if (pair === undefined) break;
    pairs.push(pair);
  }
  return pairs;
}

/** Undefined: it was interrupted, and what a half of it shows is not known. */
async function tryPair(
  { pair, ways }: Trial,
  { options, site, io }: TrialAround,
): Promise<FitPair | undefined> {
  const there = await fitWay(ways[0], planAt(pair, ways[0], options), io);
  if (io.signal.aborted) return undefined;
  const back = await fitWay(ways[1], planAt(pair, ways[1], options), io);
  if (io.signal.aborted) return undefined;
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

/** What is sent in one direction. */
export function planAt(
  pair: PairToFit,
  { toAddress = '' }: OneWay,
  { size }: Pick<FitOptions, 'size'>,
): FitPlan {
  return size.length > 0 ? planOf(size, toAddress) : planFor(declaredBytes(pair), toAddress);
}

function noWay({ from, to }: EndNames, pairs: number): RunFault {
  const between = pairs > 1 ? `any of ${pairs} pairs of ends` : `${from} and ${to}`;
  return new RunFault(exitStatuses.usage, [
    clean(
      `nothing can be sent between ${between}: one of them must be a host with SSH or '${here}', and the other must have an address`,
    ),
  ]);
}
