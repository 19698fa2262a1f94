import type { FitReason } from '../diagnose/fit-seen.ts';
import type { SizeFit } from '../probe/fit-types.ts';
import type { FitDirection } from '../probe/settle-fits.ts';
import { fitDirectionWords, fitRemedy, fitVerdictWords } from './fit-words.ts';
import { clean, wrap } from './layout.ts';
import { paintFor } from './paint.ts';
import type { TextOptions } from './text-report.ts';

/** A fit between two ends, both directions, with what the facts say of it. */
export interface FitPair {
  /** Name of the declared path; absent: none is declared between them. */
  readonly path?: string;
  readonly from: string;
  readonly to: string;
  /** IP packet that is to pass. */
  readonly wantedBytes: number;
  readonly directions: readonly FitDirection[];
  readonly reasons: readonly FitReason[];
}

const widthMin = 40;
const widthMax = 120;

/** Which sizes pass, in words, each direction apart; then why not, and what to do. */
export function fitText(pairs: readonly FitPair[], options: TextOptions): string {
  const width = Math.min(widthMax, Math.max(widthMin, options.width));
  const paint = paintFor(options.colour);
  const blocks = pairs.map((pair) => {
    const path = pair.path === undefined ? '' : `${pair.path}: `;
    const head = `${path}${pair.from} and ${pair.to}, ${pair.wantedBytes} bytes are to pass`;
    return [
      ...wrap('', clean(head), width).map(paint.strong),
      ...pair.directions.flatMap((direction) => directionLines(direction, width)),
      ...pair.reasons.flatMap((reason) => reasonLines(reason, width)),
    ];
  });
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

function directionLines(direction: FitDirection, width: number): readonly string[] {
  const { from, to, toAddress, outcome } = direction;
  const where = toAddress === undefined ? '' : ` (${toAddress})`;
  const head = `${from} to ${to}${where}: ${fitDirectionWords(direction)}`;
  const remedy = fitRemedy(direction);
  return [
    ...wrap('  ', clean(head), width),
    ...(outcome.ok
      ? outcome.fit.sizes.flatMap((size) => wrap('    ', sizeWords(size), width))
      : []),
    ...(remedy === undefined ? [] : wrap('    then  ', clean(remedy), width)),
  ];
}

function sizeWords({ sizeBytes, verdict, tries }: SizeFit): string {
  const often = verdict.kind === 'silent' ? `, ${tries} times` : '';
  return clean(`${sizeBytes} bytes: ${fitVerdictWords(verdict)}${often}`);
}

function reasonLines({ says, remedy }: FitReason, width: number): readonly string[] {
  return [...wrap('  why   ', clean(says), width), ...wrap('  then  ', clean(remedy), width)];
}
