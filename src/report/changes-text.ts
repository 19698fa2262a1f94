import type { LivingFinding, OpenFinding } from '../drift/settle-findings.ts';
import { type CauseGroup, causeGroups } from './cause-groups.ts';
import { atLeast } from './exit-status.ts';
import { gist, leadOf, unreadNode } from './finding-gist.ts';
import { findingLines } from './finding-lines.ts';
import { clean, wrap } from './layout.ts';
import type { DrawOptions } from './measure.ts';
import { movedGroups, movedWords } from './moved-words.ts';
import { paintFor } from './paint.ts';
import { summaryLine, timeWords } from './summary-line.ts';
import type { TextOptions } from './text-report.ts';
import { toldMoves } from './told-moves.ts';
import type { AuditResult, Moved } from './types.ts';
import { unseenLines, unseenThings } from './unseen-lines.ts';

const widthMin = 40;
const widthMax = 120;
/** Lines of each part that are written out; `--verbose` writes all. */
const shownMax = 50;

/**
 * What is new, worse or cleared since the audit before, and what moved. Empty when there is
 * nothing to tell, so that cron sends no mail. The first audit that is kept is the baseline, said
 * in one line.
 */
export function changesText(result: AuditResult, moved: Moved, options: TextOptions): string {
  const drawing: DrawOptions = {
    width: Math.min(widthMax, Math.max(widthMin, options.width)),
    verbose: options.verbose,
    paint: paintFor(options.colour),
  };
  if (moved.first) {
    const words = [firstWords(result, moved), summaryLine(result)];
    return `${words.map((each) => wrap('', each, drawing.width).join('\n')).join('\n\n')}\n`;
  }
  const [fresh, worse] = (['new', 'worsened'] as const).map((life) =>
    causeGroups(living(moved, life, result)),
  ) as [CauseGroup[], CauseGroup[]];
  const parts = [
    lifePart('New', fresh.filter(isBroken), result, drawing),
    lifePart('Worse', worse.filter(isBroken), result, drawing),
    unseenPart(
      [...fresh, ...worse].filter((group) => !isBroken(group)),
      { result, moved },
      drawing,
    ),
    clearedPart(moved.settlement.cleared, drawing),
    movedPart(result, moved, drawing),
    waiverPart(moved, drawing),
    faultPart(result, drawing),
  ].filter((lines) => lines.length > 0);
  if (parts.length === 0) return '';
  const since = moved.lastAt === undefined ? '' : ` since ${timeWords(moved.lastAt)}`;
  const head = wrap('', clean(`${result.site.intent.site}${since}`), drawing.width);
  const all = [head, ...parts, wrap('', summaryLine(result), drawing.width)];
  return `${all.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

/** Whether anything of at least the severity that counts is new or worse. */
export function newFindings(moved: Moved): readonly LivingFinding[] {
  return moved.settlement.living.filter(({ life }) => life === 'new' || life === 'worsened');
}

function firstWords({ site }: AuditResult, { settlement }: Moved): string {
  const count = settlement.living.length;
  const some = count === 1 ? '1 finding stands' : `${count} findings stand`;
  const stand = count === 0 ? 'nothing is found against it' : `${some}, see hopgauge audit`;
  return clean(
    `${site.intent.site}: first audit in this history; ${stand}. From now on only what moves is told`,
  );
}

/** Waived findings are accepted: new ones are the owner's own doing. */
function living(moved: Moved, life: 'new' | 'worsened', { least }: AuditResult) {
  return newFindings(moved)
    .filter((each) => each.life === life && each.finding.verdict !== 'waived')
    .map(({ finding }) => finding)
    .sort((a, b) => Number(!atLeast(a.severity, least)) - Number(!atLeast(b.severity, least)));
}

function isBroken({ lead }: CauseGroup): boolean {
  return lead.verdict === 'broken';
}

function lifePart(
  title: string,
  groups: readonly CauseGroup[],
  { site }: AuditResult,
  options: DrawOptions,
): string[] {
  return part(title, groups, options, (group) => findingLines(group, site, options));
}

/** What could be judged before and cannot be now; of a node, with when it last answered. */
function unseenPart(
  groups: readonly CauseGroup[],
  { result, moved }: { readonly result: AuditResult; readonly moved: Moved },
  options: DrawOptions,
): string[] {
  const lastRead = new Map(moved.asleep.map(({ node, seenAt }) => [`node ${node}`, seenAt]));
  return part('Not seen', unseenThings(groups, result.site), options, (thing) => {
    const seenAt = lastRead.get(thing.lead.cause);
    const why = seenAt === undefined ? thing.why : `${thing.why}; last read ${timeWords(seenAt)}`;
    return unseenLines({ ...thing, why }, options);
  });
}

/** A heading over what there is, as far as it is written out; nothing where there is nothing. */
function part<T>(
  title: string,
  things: readonly T[],
  options: DrawOptions,
  linesOf: (thing: T) => readonly string[],
): string[] {
  if (things.length === 0) return [];
  const shown = options.verbose ? things : things.slice(0, shownMax);
  const left = things.length - shown.length;
  return [
    options.paint.strong(title),
    ...shown.flatMap(linesOf),
    ...(left > 0 ? [`  ${left} more; --verbose writes all`] : []),
  ];
}

function clearedPart(cleared: readonly OpenFinding[], options: DrawOptions): string[] {
  const leads = new Map<string, OpenFinding[]>();
  for (const each of cleared) leads.set(each.cause, [...(leads.get(each.cause) ?? []), each]);
  return part('Cleared', [...leads.values()], options, (group) =>
    wrap('  ', clearedWords(group), options.width),
  );
}

function clearedWords(group: readonly OpenFinding[]): string {
  const lead = leadOf(group, ({ subject }) => subject.kind === 'path');
  if (lead === undefined) return '';
  const { subject, what, since } = lead;
  const unread = unreadNode(lead);
  if (unread !== undefined) return clean(`${unread}: read again; not since ${timeWords(since)}`);
  const gone =
    lead.verdict === 'undetermined'
      ? `${lead.rule} can be judged again; it could not since`
      : `${gist(what)}; there since`;
  const title = gone.startsWith(subject.id) ? gone : `${subject.id}: ${gone}`;
  const more = group.length === 1 ? '' : `; ${group.length - 1} more of the same cause`;
  return clean(`${title} ${timeWords(since)}${more}`);
}

function movedPart({ site }: AuditResult, moved: Moved, options: DrawOptions): string[] {
  const groups = movedGroups(toldMoves(moved.changes, site));
  return part('Moved', groups, options, (group) =>
    wrap('  ', movedWords(group, moved.lastAt), options.width),
  );
}

function waiverPart(moved: Moved, options: DrawOptions): string[] {
  const words = [
    ...moved.idleWaivers.map(
      ({ rule, on }) => `the waiver of ${rule} on ${on} was not needed for 14 audits; take it out`,
    ),
  ];
  return part('Waivers', words, options, (line) => wrap('  ', clean(line), options.width));
}

function faultPart({ judgement }: AuditResult, options: DrawOptions): string[] {
  const [first, ...rest] = judgement.faults;
  if (first === undefined) return [];
  const more = rest.length === 0 ? '' : `; and ${rest.length} more`;
  return wrap(
    '',
    clean(`rule ${first.rule} failed on ${first.subject}: ${first.what}${more}`),
    options.width,
  );
}
