import { withProofs } from '../facts/newest-proofs.ts';
import type { ProofOfDirection, Proofs } from '../facts/proof.ts';
import { saveSurvey } from '../facts/saved-survey.ts';
import { storeWords } from '../history/store-place.ts';
import type { Intent } from '../intent/types.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import { inStore, storePlace } from './history-of.ts';
import type { Io } from './io.ts';
import { RunFault } from './run-fault.ts';
import { savedSurvey } from './take-survey.ts';
import { requireWritable } from './write-result.ts';

/** Where what active tests have shown is kept. */
export interface KeepOptions {
  /** Saved survey that is written anew with it; absent: none. */
  readonly into?: string | undefined;
  /** File or server of the history; absent: none. */
  readonly store?: string | undefined;
  /** What is declared; the history keeps its proofs by its site. Absent: nothing is. */
  readonly intent?: Intent | undefined;
  /** Not to say that it was kept; what was not is said all the same. */
  readonly quiet?: boolean | undefined;
}

/**
 * Ends the run where proofs could not be kept: to be called before anything is sent, so that no path
 * is loaded for a result that is then lost. Makes the history where there is none.
 */
export async function requireKeeping(options: KeepOptions, io: Io): Promise<void> {
  const { into, store } = options;
  requireSite(options);
  if (into !== undefined) {
    await savedSurvey(into, io);
    await requireWritable(into, io, 'into');
  }
  if (store !== undefined) {
    const { openStore } = await import('../history/open-store.ts');
    const place = await storePlace(store, io);
    await inStore(place, async () => (await openStore(place)).close());
  }
}

function requireSite({ store, intent }: KeepOptions): void {
  if (store === undefined || intent !== undefined) return;
  throw new RunFault(exitStatuses.usage, [
    '--store keeps by site and there is no intent; give --intent FILE',
  ]);
}

/**
 * Keeps what active tests have shown, the newest of each direction. What is not between two nodes of
 * the survey or the intent, such as an address that was typed, belongs to no path and is left out.
 */
export async function keepProofs(proofs: Proofs, options: KeepOptions, io: Io): Promise<void> {
  requireSite(options);
  const { into, store, intent, quiet = false } = options;
  if (countOf(proofs) === 0) return tellNothingKept([into, store], io);
  if (into !== undefined) await keepInto(proofs, { into, intent, quiet }, io);
  if (store !== undefined && intent !== undefined) {
    await keepInStore(proofs, { store, intent, quiet }, io);
  }
}

interface Quietly {
  readonly quiet: boolean;
}

async function keepInto(
  proofs: Proofs,
  {
    into: file,
    intent,
    quiet,
  }: Quietly & { readonly into: string; readonly intent: Intent | undefined },
  io: Io,
): Promise<void> {
  const survey = await savedSurvey(file, io);
  // A node that nobody logs in to is in no survey.
  const declared = (intent?.nodes ?? []).map(({ name }) => name);
  const known = between(proofs, new Set([...survey.nodes.map(({ node }) => node), ...declared]));
  tellLeftOut(proofs, known, `the survey ${file}`, io);
  if (countOf(known) === 0) return;
  const written = await io.writeFile(file, saveSurvey(withProofs(survey, known)), 'owner');
  if (!written.ok) {
    throw new RunFault(exitStatuses.cannotWrite, [clean(`${file}: ${written.reason}`)]);
  }
  if (!quiet) tellKept(file, io);
}

async function keepInStore(
  proofs: Proofs,
  { store, intent, quiet }: Quietly & { readonly store: string; readonly intent: Intent },
  io: Io,
): Promise<void> {
  const known = between(proofs, new Set(intent.nodes.map(({ name }) => name)));
  tellLeftOut(proofs, known, 'the intent', io);
  if (countOf(known) === 0) return;
  const [{ openStore }, { addProofs }] = await Promise.all([
    import('../history/open-store.ts'),
    import('../history/write-night.ts'),
  ]);
  const place = await storePlace(store, io);
  await inStore(place, async () => {
    const database = await openStore(place);
    try {
      await addProofs(database, intent.site, known);
    } finally {
      await database.close();
    }
  });
  if (!quiet) tellKept(storeWords(place), io);
}

function tellKept(where: string, io: Io): void {
  io.stderr.write(`${clean(`kept in ${where}`)}\n`);
}

function tellNothingKept(files: readonly (string | undefined)[], io: Io): void {
  for (const file of files) {
    if (file === undefined) continue;
    io.stderr.write(`${clean(`${file}: nothing is kept, since nothing was tried to its end`)}\n`);
  }
}

function between({ fits, transfers }: Proofs, nodes: ReadonlySet<string>): Proofs {
  const isKnown = ({ from, to }: ProofOfDirection) => nodes.has(from) && nodes.has(to);
  return { fits: fits.filter(isKnown), transfers: transfers.filter(isKnown) };
}

function tellLeftOut(all: Proofs, known: Proofs, where: string, io: Io): void {
  const left = countOf(all) - countOf(known);
  if (left === 0) return;
  io.stderr.write(
    `${clean(`${left} of ${countOf(all)} results are not kept: ${where} does not have both ends; name nodes of the intent`)}\n`,
  );
}

function countOf({ fits, transfers }: Proofs): number {
  return fits.length + transfers.length;
}
