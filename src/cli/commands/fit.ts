import type { FitProof } from '../../facts/proof.ts';
import { fitCommands } from '../../probe/fit-commands.ts';
import { fitProof } from '../../probe/fit-proof.ts';
import { type FitPlan, fitPacketsMax } from '../../probe/fit-types.ts';
import { standTogether } from '../../probe/settle-fits.ts';
import { windowsFitCommands } from '../../probe/windows-fit-script.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { fitJson } from '../../report/fit-json.ts';
import { type FitPair, fitText } from '../../report/fit-text.ts';
import { clean, wrap } from '../../report/layout.ts';
import { buildSite } from '../../site/build-site.ts';
import type { Site } from '../../site/types.ts';
import type { EndNames, OneWay } from '../fit-ends.ts';
import { checkSizes, pairsToFit } from '../fit-pairs.ts';
import { canSend, planAt, type Trial, trialsOf, tryAll } from '../fit-trials.ts';
import type { Io } from '../io.ts';
import { keepProofs, requireKeeping } from '../keep-proofs.ts';
import { hasDefaultIntent, requireIntent } from '../load-inputs.ts';
import { sshDepsOf } from '../node-reader.ts';
import type { FitOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { interrupted, savedSurvey } from '../take-survey.ts';
import { textLook, widthOf } from '../write-result.ts';

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
  const keeping = { ...options, intent: site?.intent };
  if (options.showCommands !== true) await requireKeeping(keeping, io);
  const ssh = sshDepsOf(io);
  try {
    const trials = await trialsOf(pairsToFit(ends, options, site), { site, ssh, io });
    announce(trials, options, io);
    if (options.showCommands === true) return exitStatuses.met;
    const pairs = await tryAll(trials, { options, site, io });
    if (pairs.length === 0) throw interrupted();
    const proofs = proofsOf(pairs);
    const cut = pairs.length < trials.length;
    const look = { ...textLook(undefined, io), verbose: options.verbose === true };
    const text =
      options.format === 'json'
        ? fitJson(pairs, proofs, { interrupted: cut })
        : fitText(pairs, look);
    io.stdout.write(text);
    await keepProofs({ fits: proofs, transfers: [] }, keeping, io);
    if (cut) return interruptedAfter(pairs.length, trials.length, io);
    return statuses[standTogether(pairs.flatMap(({ directions }) => directions))];
  } finally {
    ssh.jumps.close();
  }
}

/** What was tried to its end is told and kept; the rest is not. */
function interruptedAfter(done: number, all: number, io: Io): number {
  io.stderr.write(`interrupted after ${done} of ${all} pairs of ends; the others were not tried\n`);
  return exitStatuses.interrupted;
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

async function declaredSite(options: FitOptions, io: Io): Promise<Site | undefined> {
  if (options.intent === undefined && !(await hasDefaultIntent(io))) {
    if (options.survey === undefined) return undefined;
    throw new RunFault(exitStatuses.usage, [
      '--survey explains a path of an intent, and there is none here; give --intent FILE',
    ]);
  }
  const intent = await requireIntent(options.intent, io);
  // What is kept beside a reading is best explained by it, and goes to the addresses that it has.
  const file = options.survey ?? options.into;
  const survey = file === undefined ? undefined : await savedSurvey(file, io);
  return buildSite(intent, survey, { strict: false });
}

/** Says what is about to be sent, before it is. */
function announce(trials: readonly Trial[], options: FitOptions, io: Io): void {
  const lines = trials.flatMap(({ pair, ways }) =>
    ways.filter(canSend).map((way) => sendingWords(way, planAt(pair, way, options))),
  );
  const out = options.showCommands === true ? io.stdout : io.stderr;
  const most = lines.length * fitPacketsMax;
  const all =
    trials.length > 1
      ? [`${trials.length} pairs of ends, one after the other: at most ${most} packets in all`]
      : [];
  const told = [...all, ...lines].map((line) => hung(clean(line), widthOf(out)));
  const text = told.map((line) => `${line}\n`).join('');
  if (options.showCommands === true) out.write(`${text}${commandLines()}nothing was sent\n`);
  else if (options.quiet !== true) out.write(text);
}

/** In lines of which all but the first stand back, so that each direction is seen to begin. */
function hung(words: string, width: number): string {
  return wrap('    ', words, width).join('\n').trimStart();
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
