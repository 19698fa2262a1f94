import type { FitProof } from '../facts/proof.ts';
import type { Survey } from '../facts/survey.ts';
import { wasRead } from '../facts/was-read.ts';
import type { DeclaredNode, Intent } from '../intent/types.ts';
import { buildSite } from '../site/build-site.ts';
import type { Site } from '../site/types.ts';
import type { FitWanted, FitWay, Io } from './io.ts';
import { progressOn } from './progress.ts';

/** How nightly fits are run. */
export interface NightlyOptions {
  readonly quiet: boolean;
  /** Ends them early; what was tried by then is kept. */
  readonly signal: AbortSignal;
}

/**
 * Tries the paths whose intent says `fit: nightly`, after the reading, by the addresses that it
 * found. One sender at a time, and only between ends that gave an answer tonight: a node that does
 * not is not asked twice. Transfers are never run by an audit.
 */
export async function nightlyFits(
  intent: Intent,
  survey: Survey,
  io: Io,
  { quiet, signal }: NightlyOptions,
): Promise<readonly FitProof[]> {
  if (!asksForFits(intent)) return [];
  const wanted = wantedFits(buildSite(intent, survey, { strict: false }), survey);
  if (wanted.length === 0) return [];
  const progress = progressOn(io.stderr, { quiet, env: io.env });
  // Loaded here: most audits run none.
  const [{ sshDepsOf }, { fitPairBy }] = await Promise.all([
    import('./node-reader.ts'),
    import('./fit-pair.ts'),
  ]);
  const ssh = sshDepsOf(io);
  const tryPair = io.fit ?? fitPairBy(ssh, io);
  const proofs: FitProof[] = [];
  try {
    for (const [done, pair] of wanted.entries()) {
      if (signal.aborted) break;
      progress.show(`fit: ${done} of ${wanted.length} pairs done`);
      proofs.push(...(await tryPair(pair, signal)));
    }
    return proofs;
  } finally {
    progress.clear();
    ssh.jumps.close();
  }
}

/** Whether an audit of this intent sends packets of its own. */
export function asksForFits({ paths }: Intent): boolean {
  return paths.some(({ fit }) => fit === 'nightly');
}

/**
 * Names of the paths whose intent says `fit: nightly`, and of which no fit that still counts is in
 * the survey for some direction.
 */
export function unprovenPaths(intent: Intent, survey: Survey): readonly string[] {
  if (!asksForFits(intent)) return [];
  const { paths, directions } = buildSite(intent, survey, { strict: false });
  const unproven = directions.filter(({ subject: { facts } }) => {
    return facts['fitAsked'] === true && facts['isProven'] !== true;
  });
  const open = new Set(unproven.map(({ path }) => path));
  const names = paths.filter(({ id }) => open.has(id)).map(({ declared }) => declared.name);
  return [...new Set(names)];
}

function wantedFits(site: Site, survey: Survey): readonly FitWanted[] {
  const read = new Set(survey.nodes.filter(wasRead).map(({ node }) => node));
  const nodes = new Map(site.intent.nodes.map((node) => [node.name, node]));
  const known = (name: string): DeclaredNode | undefined => {
    const node = nodes.get(name);
    return node !== undefined && (read.has(name) || node.unread !== undefined) ? node : undefined;
  };
  return site.paths.flatMap(({ id, declared, subject }): FitWanted[] => {
    if (declared.fit !== 'nightly') return [];
    const directions = site.directions.flatMap((direction): FitWay[] => {
      const { fitAsked, toAddress } = direction.subject.facts;
      const [from, to] = [known(direction.from), known(direction.to)];
      const isOfPath = direction.path === id && fitAsked === true;
      if (!isOfPath || from === undefined || to === undefined) return [];
      return typeof toAddress === 'string' ? [{ from, to, toAddress }] : [];
    });
    const bytes = subject.facts['declaredMtuBytes'];
    const declaredBytes = typeof bytes === 'number' ? { declaredBytes: bytes } : {};
    return directions.length === 0 ? [] : [{ directions, ...declaredBytes }];
  });
}
