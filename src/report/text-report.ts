import type { Site, SitePath } from '../site/types.ts';
import { type CauseGroup, causeGroups } from './cause-groups.ts';
import { drawPath } from './draw-path.ts';
import { placeWords } from './fact-words.ts';
import { findingLines, titleWords } from './finding-lines.ts';
import { clean, wrap } from './layout.ts';
import type { DrawOptions } from './measure.ts';
import { paintFor } from './paint.ts';
import { effectLines, pathHeading, pathVerdict } from './path-words.ts';
import { provenLines } from './proof-words.ts';
import { strayWaivers } from './stray-waivers.ts';
import { summaryLine, timeWords } from './summary-line.ts';
import type { AuditResult } from './types.ts';
import { unreadNodeLines, unseenLines, unseenThings } from './unseen-lines.ts';

/** How a report is to look. */
export interface TextOptions {
  /** Columns of the terminal; written between 40 and 120 of them. */
  readonly width: number;
  readonly colour: boolean;
  readonly verbose: boolean;
}

const widthMin = 40;
const widthMax = 120;

/** Beyond so many paths only those with something to see are drawn. */
const pathsDrawnMax = 8;
/** Causes written out in each part; the rest is counted, and `--verbose` writes all. */
const causesShownMax = 50;

/**
 * The report for a terminal: the paths as the owner thinks of them, then what is broken, grouped
 * by cause, then what could not be seen and what would let it be, then one line of counts.
 */
export function textReport(result: AuditResult, options: TextOptions): string {
  const drawing: DrawOptions = {
    width: Math.min(widthMax, Math.max(widthMin, options.width)),
    verbose: options.verbose,
    paint: paintFor(options.colour),
  };
  const groups = causeGroups(result.judgement.findings);
  const parts = [
    ...pathParts(result, drawing),
    brokenPart(result.site, groups, drawing),
    unseenPart(result.site, groups, drawing),
    agePart(result, drawing),
    notedPart(result.site, groups, drawing),
    waivedPart(groups, drawing),
    faultPart(result, drawing),
    wrap('', summaryLine(result), drawing.width),
  ];
  return `${parts
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n'))
    .join('\n\n')}\n`;
}

/** Nobody is to take ports that are well for a way that is. */
const noPath = 'no path is declared: nothing was judged from end to end; add one under paths:';

function pathParts({ site, judgement }: AuditResult, options: DrawOptions): string[][] {
  if (site.paths.length === 0) return [wrap('', noPath, options.width)];
  const named = new Set(judgement.findings.map(({ subject }) => subject.id));
  const directions = new Map(site.directions.map(({ id, path }) => [id, path]));
  for (const [id, path] of directions) if (named.has(id)) named.add(path);
  const few = options.verbose || site.paths.length <= pathsDrawnMax;
  const drawn = few ? site.paths : site.paths.filter((path) => isWorthDrawing(path, named));
  const left = site.paths.length - drawn.length;
  const lags = new Map(site.links.map(({ declared }) => [declared.id, declared.lag]));
  return [
    ...drawn.map((path) => [
      ...pathPart(path, (id) => lags.get(id), options),
      ...[...effectLines(path, judgement.findings), ...provenLines(path, site.directions)].flatMap(
        (line) => wrap('  ', line, options.width),
      ),
    ]),
    ...(left === 0 ? [] : [[`${left} more paths with nothing to see`]]),
  ];
}

function isWorthDrawing(path: SitePath, named: ReadonlySet<string>): boolean {
  const names = path.hops.flatMap(({ port, linkId }) => [port.id, ...(linkId ? [linkId] : [])]);
  return [path.id, path.declared.name, ...names].some((name) => named.has(name));
}

function pathPart(
  path: SitePath,
  lagOf: (linkId: string) => string | undefined,
  options: DrawOptions,
): string[] {
  const { width, paint } = options;
  return [
    ...wrap('', pathHeading(path), width).map(paint.strong),
    ...drawPath(path, lagOf, options),
    ...wrap('  ', pathVerdict(path), width),
  ];
}

function brokenPart(site: Site, groups: readonly CauseGroup[], options: DrawOptions): string[] {
  const broken = groups.filter((group) => group.lead.verdict === 'broken' && !isNotice(group));
  return part('Broken', broken, options, (group) => findingLines(group, site, options));
}

/** A notice is no fault: on a healthy site nothing stands under that heading. */
function notedPart(site: Site, groups: readonly CauseGroup[], options: DrawOptions): string[] {
  const noted = groups.filter((group) => group.lead.verdict === 'broken' && isNotice(group));
  return part('Worth knowing', noted, options, (group) => findingLines(group, site, options));
}

function isNotice({ lead, others }: CauseGroup): boolean {
  return [lead, ...others].every(({ severity }) => severity === 'notice');
}

function unseenPart(site: Site, groups: readonly CauseGroup[], options: DrawOptions): string[] {
  const unseen = groups.filter(({ lead }) => lead.verdict === 'undetermined');
  const nodes = unreadNodeLines(site, groups, options);
  const things = unseenThings(unseen, site);
  const lines = part('Not seen', things, options, (thing) => unseenLines(thing, options));
  if (nodes.length === 0) return lines;
  return [...(lines.length === 0 ? [options.paint.strong('Not seen')] : lines), ...nodes];
}

/** Where a history is kept: how old the last reading is of each node that gave no answer. */
function agePart({ moved }: AuditResult, options: DrawOptions): string[] {
  const asleep = moved?.asleep ?? [];
  if (asleep.length === 0) return [];
  const words = asleep.map(({ node, seenAt }) =>
    seenAt === undefined ? `${node} never` : `${node} ${timeWords(seenAt)}`,
  );
  return wrap('Last read  ', clean(words.join('; ')), options.width);
}

function waivedPart(groups: readonly CauseGroup[], options: DrawOptions): string[] {
  const waived = groups.filter(({ lead }) => lead.verdict === 'waived');
  return part('Waived', waived, options, ({ lead, others }) => [
    ...[lead, ...others].flatMap((each) => {
      const { until = '', because = '' } = each.waiver ?? {};
      return wrap('  ', clean(`${titleWords(each)}; until ${until}: ${because}`), options.width);
    }),
  ]);
}

function part<T>(
  heading: string,
  groups: readonly T[],
  options: DrawOptions,
  linesOf: (group: T) => string[],
): string[] {
  if (groups.length === 0) return [];
  const shown = options.verbose ? groups : groups.slice(0, causesShownMax);
  const left = groups.length - shown.length;
  return [
    options.paint.strong(heading),
    ...shown.flatMap(linesOf),
    ...(left === 0 ? [] : [`  and ${left} more; --verbose shows all`]),
  ];
}

function faultPart({ judgement }: AuditResult, options: DrawOptions): string[] {
  const faults = judgement.faults.map((fault) =>
    clean(
      `${placeWords(fault.place)}: rule ${fault.rule} failed on ${fault.subject}: ${fault.what}`,
    ),
  );
  const stale = strayWaivers(judgement).map(
    (place) => `${placeWords(place)}: this waiver matches no rule and subject; remove it`,
  );
  if (faults.length + stale.length === 0) return [];
  const shown = options.verbose ? faults : faults.slice(0, causesShownMax);
  return [
    options.paint.strong('In your files'),
    ...[...shown, ...stale].flatMap((line) => wrap('  ', line, options.width)),
  ];
}
