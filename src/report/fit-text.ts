import type { FitOutcome, FitVerdict, SizeFit } from '../probe/fit-types.ts';
import type { SitePath } from '../site/types.ts';
import { clean, wrap } from './layout.ts';
import { clearanceWords } from './opening.ts';
import { paintFor } from './paint.ts';
import type { TextOptions } from './text-report.ts';

/** A fit in one direction. */
export interface FitDirection {
  readonly from: string;
  readonly to: string;
  /** Absent: none is known, and nothing was sent. */
  readonly toAddress?: string;
  readonly outcome: FitOutcome;
}

/** A fit in both directions, with the path that may explain it. */
export interface FitResult {
  readonly directions: readonly FitDirection[];
  /** The declared path between the two, with what was read of it; absent: none is declared. */
  readonly path?: SitePath;
}

const widthMin = 40;
const widthMax = 120;
const hopsShownMax = 4;

/** Which sizes pass, in words, each direction apart; and the hop of the path that explains it. */
export function fitText(result: FitResult, options: TextOptions): string {
  const width = Math.min(widthMax, Math.max(widthMin, options.width));
  const paint = paintFor(options.colour);
  const lines = result.directions.flatMap(({ from, to, toAddress, outcome }) => [
    ...wrap(
      '',
      clean(`${from} to ${to}${toAddress === undefined ? '' : ` (${toAddress})`}`),
      width,
    ).map(paint.strong),
    ...(outcome.ok
      ? outcome.fit.sizes.flatMap((size) => wrap('  ', sizeWords(size), width))
      : [
          ...wrap('  not tried  ', clean(outcome.trouble.seen), width),
          ...wrap('    then     ', clean(outcome.trouble.remedy), width),
        ]),
  ]);
  const why = explanation(result);
  return `${[...lines, ...(why === '' ? [] : ['', ...wrap('', why, width)])].join('\n')}\n`;
}

/** Whether every size came back in every direction; undefined: that cannot be told. */
export function fits({ directions }: FitResult): boolean | undefined {
  const verdicts = directions.flatMap(({ outcome }) =>
    outcome.ok ? outcome.fit.sizes.map(({ verdict }) => verdict.kind) : ['cannot-tell' as const],
  );
  if (verdicts.some((kind) => kind !== 'passes' && kind !== 'cannot-tell')) return false;
  return verdicts.length === 0 || verdicts.includes('cannot-tell') ? undefined : true;
}

function sizeWords({ sizeBytes, verdict }: SizeFit): string {
  return clean(`${sizeBytes} bytes: ${verdictWords(verdict)}`);
}

function verdictWords(verdict: FitVerdict): string {
  switch (verdict.kind) {
    case 'passes':
      return 'passes and comes back';
    case 'own-interface-small': {
      const size = verdict.mtuBytes === undefined ? '' : ` (${verdict.mtuBytes} bytes)`;
      return `does not leave: the sender's own interface or route is smaller${size}`;
    }
    case 'router-said': {
      const who = verdict.address === undefined ? 'learnt before from a router' : verdict.address;
      const size = verdict.mtuBytes === undefined ? '' : `, which passes ${verdict.mtuBytes} bytes`;
      return `too big on the way, says ${who}${size}`;
    }
    case 'silent':
      return 'vanishes: no answer and no error, while a smaller packet came back';
    case 'cannot-tell':
      return `cannot be told: ${verdict.words}`;
  }
}

/** The smallest size that did not come back in some direction. */
function failedBytes({ directions }: FitResult): number | undefined {
  const sizes = directions.flatMap(({ outcome }) => (outcome.ok ? outcome.fit.sizes : []));
  const failed = sizes.filter(
    ({ verdict }) => verdict.kind !== 'passes' && verdict.kind !== 'cannot-tell',
  );
  return failed.length === 0 ? undefined : Math.min(...failed.map(({ sizeBytes }) => sizeBytes));
}

const readFirst =
  'which hop explains it is in their settings: save them with hopgauge survey --out FILE, and give the fit --survey FILE';

function explanation(result: FitResult): string {
  const failed = failedBytes(result);
  const { path } = result;
  if (failed === undefined || path === undefined) return '';
  const small = path.hops.filter(({ clearance: { atMostBytes: most } }) => {
    return most !== undefined && most < failed;
  });
  if (small.length > 0) {
    const named = small
      .slice(0, hopsShownMax)
      .map(({ port, clearance }) => `${port.id} (${clearanceWords(clearance)} bytes)`);
    return clean(`on the path ${path.id} this explains it: ${named.join(', ')}`);
  }
  const unknown = path.hops.filter(({ clearance }) => (clearance.atLeastBytes ?? 0) < failed);
  if (unknown.length > 0) {
    if (!path.hops.some(({ port }) => port.survey !== undefined)) return readFirst;
    const named = unknown.slice(0, hopsShownMax).map(({ port }) => port.id);
    return clean(
      `no hop of the path ${path.id} is known to be too small; not known: ${named.join(', ')}`,
    );
  }
  return clean(
    `every hop of the path ${path.id} says that ${failed} bytes pass: one of them says what is not so, or the traffic takes another way`,
  );
}
