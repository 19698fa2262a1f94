import type { Hop, SitePath } from '../site/types.ts';
import { drawHop } from './draw-hop.ts';
import { forkAt, pairedHops } from './hop-order.ts';
import { clean, columnsOf, padEnd, wrap } from './layout.ts';
import { type DrawOptions, type Measure, measureOf } from './measure.ts';
import { load } from './opening.ts';
import { runWords } from './run-words.ts';

/**
 * The hops of a path in order, each as an opening drawn to the measure of the declared packet,
 * with what one can touch between them. Ways beside each other stand under each other, and it
 * says so. `lagOf` names the aggregate of a link.
 */
export function drawPath(
  path: SitePath,
  lagOf: (linkId: string) => string | undefined,
  options: DrawOptions,
): string[] {
  const measure = measureOf(path, options.width);
  const hops = withEnds(path, pairedHops(path.hops));
  const lines = measure.demandBytes === undefined ? [] : [loadLine(measure, options)];
  hops.forEach((hop, at) => {
    const before = hops[at - 1];
    if (before !== undefined) {
      const fork = forkLines(hops, at, lagOf);
      if (fork !== '') lines.push(...wrap('  -- ', fork, options.width).map(options.paint.quiet));
      else if (before.port.node !== hop.port.node)
        lines.push(...runLines(runText(before, hop, options.verbose), measure, options));
    }
    lines.push(...drawHop(hop, measure, options));
  });
  return lines;
}

/** An end of which no port is known is drawn as well, as not known. */
function withEnds({ from, to }: SitePath, hops: readonly Hop[]): readonly Hop[] {
  const has = (node: string) => hops.some(({ port }) => port.node === node);
  return [
    ...(has(from) ? [] : [unknownEnd(from, 'from')]),
    ...hops,
    ...(has(to) ? [] : [unknownEnd(to, 'to')]),
  ];
}

function unknownEnd(node: string, position: 'from' | 'to'): Hop {
  const shared = { sources: {}, gaps: {} };
  return {
    port: { id: node, node, subject: { kind: 'port', id: node, facts: {}, shared } },
    clearance: { onWord: false },
    position,
    distance: 0,
    runToNext: [],
    narrowest: false,
    slowest: false,
    layer: false,
  };
}

function loadLine(measure: Measure, { paint }: DrawOptions): string {
  const drawn = load(measure.demandBytes ?? 0, measure.openingColumns);
  if (!measure.beside) return paint.quiet(`    ${drawn} declared`);
  return paint.quiet(`  ${padEnd('declared', measure.nameColumns)}  ${drawn}`);
}

function runText(before: Hop, hop: Hop, whole: boolean): string {
  if (before.linkId !== undefined && before.linkId === hop.linkId) {
    return runWords(before.runToNext, whole);
  }
  return 'not declared what lies between';
}

function runLines(words: string, measure: Measure, options: DrawOptions): string[] {
  const middle = Math.floor(measure.openingColumns / 2) - 1;
  const bar = `${' '.repeat((measure.beside ? measure.nameColumns + 4 : 4) + middle)}||`;
  const { quiet } = options.paint;
  if (words === '') return [quiet(bar)];
  if (options.width - columnsOf(bar) >= 24)
    return wrap(`${bar}  `, words, options.width).map(quiet);
  return [bar, ...wrap('    ', words, options.width)].map(quiet);
}

function forkLines(
  hops: readonly Hop[],
  at: number,
  lagOf: (linkId: string) => string | undefined,
): string {
  const fork = forkAt(hops, at, lagOf);
  if (fork.kind === 'member') return `and beside it, in the aggregate ${clean(fork.lag)}:`;
  return fork.kind === 'instead' ? 'or, another way:' : '';
}
