import { standardPacketBytes } from '../ethernet/frame-size.ts';
import { nearestWord } from '../intent/nearest.ts';
import { fitSizesMax } from '../probe/fit-types.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import type { Site, SitePath } from '../site/types.ts';
import type { EndNames } from './fit-ends.ts';
import type { FitOptions } from './options.ts';
import { RunFault } from './run-fault.ts';

/** Two ends between which packets are to be sent, with the path that is declared between them. */
export interface PairToFit extends EndNames {
  /** Absent: none is declared. */
  readonly path?: SitePath;
}

/** Packet that is tried where nothing is declared. */
const jumboPacketBytes = 9000;
/** Pairs of ends in one run, so that a slip of the hand does not send for hours. */
const pairsMax = 64;

/** The pairs that the operator asks for: two ends, a path by name, or all paths. */
export function pairsToFit(
  ends: Partial<EndNames>,
  options: FitOptions,
  site: Site | undefined,
): readonly PairToFit[] {
  const { from, to } = ends;
  if (options.path !== undefined || options.all === true) {
    if (from !== undefined || (options.path !== undefined && options.all === true)) throw tooMuch();
    return ofPaths(options.path, site);
  }
  if (from === undefined || to === undefined) throw tooLittle(from);
  const path = site && pathBetween(site, { from, to });
  return [{ from, to, ...(path === undefined ? {} : { path }) }];
}

function ofPaths(name: string | undefined, site: Site | undefined): readonly PairToFit[] {
  const paths = site?.paths ?? [];
  const chosen = name === undefined ? paths : paths.filter((path) => path.declared.name === name);
  if (chosen.length === 0) throw noPath(name, paths);
  if (chosen.length > pairsMax) {
    throw usage(
      `${chosen.length} pairs of ends, and one run takes ${pairsMax} at most; name one path with --path`,
    );
  }
  return chosen.map((path) => ({ from: path.from, to: path.to, path }));
}

function pathBetween(site: Site, { from, to }: EndNames): SitePath | undefined {
  return site.paths.find(
    (path) => (path.from === from && path.to === to) || (path.from === to && path.to === from),
  );
}

/** The packet that is to pass between them, in bytes. */
export function declaredBytes({ path }: PairToFit): number {
  const declared = path?.subject.facts['declaredMtuBytes'];
  if (typeof declared === 'number') return declared;
  return path === undefined ? jumboPacketBytes : standardPacketBytes;
}

/** Ends the run where more sizes are given than a fit takes. */
export function checkSizes({ size }: FitOptions): void {
  if (new Set(size).size > fitSizesMax) throw usage(`at most ${fitSizesMax} sizes; leave some out`);
}

function tooMuch(): RunFault {
  return usage('give FROM and TO, or --path NAME, or --all; not two of them');
}

function tooLittle(from: string | undefined): RunFault {
  return usage(
    from === undefined
      ? 'say between whom: FROM and TO, --path NAME, or --all'
      : `say to whom: hopgauge fit ${clean(from).slice(0, 80)} TO`,
  );
}

function noPath(name: string | undefined, paths: readonly SitePath[]): RunFault {
  if (name === undefined || paths.length === 0) {
    return usage('the intent declares no path; give FROM and TO');
  }
  const near = nearestWord(
    name,
    paths.map(({ declared }) => declared.name),
  );
  const remedy = near === undefined ? 'name one that it declares' : `write '${near}'`;
  return usage(`no path '${clean(name).slice(0, 80)}' in the intent; ${remedy}`);
}

function usage(words: string): RunFault {
  return new RunFault(exitStatuses.usage, [words]);
}
