import type { Finding } from '../judge/types.ts';
import type { SitePath } from '../site/types.ts';
import { type CauseGroup, causeGroups } from './cause-groups.ts';
import { placeWords, valueWords } from './fact-words.ts';
import { titleWords } from './finding-lines.ts';
import { markdownTable, markdownText } from './markdown-text.ts';
import { movedGroups, movedWords } from './moved-words.ts';
import { seenWords } from './seen-words.ts';
import { strayWaivers } from './stray-waivers.ts';
import { summaryLine, timeWords } from './summary-line.ts';
import { toldMoves } from './told-moves.ts';
import type { AuditResult } from './types.ts';

/**
 * The report as Markdown, to be put into a ticket or a page: paths as a table, then what is broken,
 * what could not be judged and what is waived, a table for each cause; then what moved. Nothing in
 * a name can become a mark, a link or a tag.
 */
export function markdownReport(result: AuditResult): string {
  const groups = causeGroups(result.judgement.findings);
  const lives = livesOf(result);
  const part = (heading: string, accept: (group: CauseGroup) => boolean) =>
    findingPart(heading, groups.filter(accept), { result, lives });
  const isNotice = ({ lead, others }: CauseGroup) =>
    [lead, ...others].every(({ severity }) => severity === 'notice');
  const blocks = [
    [`# ${markdownText(result.site.intent.site)}`],
    [markdownText(summaryLine(result))],
    ...pathPart(result.site.paths),
    ...part('Broken', (group) => group.lead.verdict === 'broken' && !isNotice(group)),
    ...part('Not seen', ({ lead }) => lead.verdict === 'undetermined'),
    ...part('Worth knowing', (group) => group.lead.verdict === 'broken' && isNotice(group)),
    ...part('Waived', ({ lead }) => lead.verdict === 'waived'),
    ...movedPart(result),
    ...faultPart(result),
  ];
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

type Blocks = readonly (readonly string[])[];
type Lives = ReadonlyMap<string, string>;

function livesOf({ moved }: AuditResult): Lives {
  if (moved === undefined || moved.first) return new Map();
  return new Map(
    moved.settlement.living.map(({ finding, life, since }) => [
      finding.id,
      `${life}, since ${timeWords(since)}`,
    ]),
  );
}

function pathPart(paths: readonly SitePath[]): Blocks {
  if (paths.length === 0) return [];
  const rows = paths.map(({ id, from, to, subject: { facts } }) => [
    ...[id, from, to].map(markdownText),
    ...[
      'declaredMtuBytes',
      'mtuAtLeastBytes',
      'mtuAtMostBytes',
      'carriesDeclaredMtu',
      'narrowestPort',
    ].map((name) =>
      markdownText(facts[name] === undefined ? 'not known' : valueWords(facts[name])),
    ),
  ]);
  const headings = [
    'path',
    'from',
    'to',
    'declared',
    'at least',
    'at most',
    'carries it',
    'narrowest',
  ];
  return [['## Paths'], markdownTable(headings, rows)];
}

function findingPart(
  heading: string,
  groups: readonly CauseGroup[],
  context: { readonly result: AuditResult; readonly lives: Lives },
): Blocks {
  if (groups.length === 0) return [];
  return [
    [`## ${heading}`],
    ...groups.flatMap(({ lead, others }) => [
      [`### ${markdownText(`${lead.severity}: ${titleWords(lead)}`)}`],
      markdownTable(['', ''], findingRows(lead, others, context)),
    ]),
  ];
}

function findingRows(
  lead: Finding,
  others: readonly Finding[],
  { result, lives }: { readonly result: AuditResult; readonly lives: Lives },
): readonly (readonly string[])[] {
  const { advice, declaredAt, waiver, rule, policy, source, id } = lead;
  const life = lives.get(id);
  const also = others.map((each) => `${each.rule} on ${each.subject.id} (${each.id})`);
  const rows: readonly (readonly [string, string | undefined])[] = [
    ['seen', seenWords(lead, result.site, true)],
    ['do', advice],
    ['declared', declaredAt && placeWords(declaredAt)],
    ['waived', waiver && `until ${waiver.until}: ${waiver.because}`],
    ['life', life],
    ['rule', `${rule} of policy ${policy}, after ${source}`],
    ['finding', id],
    ['also', also.length === 0 ? undefined : also.join('; ')],
  ];
  return rows.flatMap(([name, text]) => (text === undefined ? [] : [[name, markdownText(text)]]));
}

function movedPart({ moved, site }: AuditResult): Blocks {
  if (moved === undefined || moved.first) return [];
  const cleared = moved.settlement.cleared.map(
    ({ what, subject, since, id }) =>
      `- ${markdownText(`${subject.id}: ${what}; there since ${timeWords(since)} (${id})`)}`,
  );
  const changes = movedGroups(toldMoves(moved.changes, site)).map(
    (group) => `- ${markdownText(movedWords(group, moved.lastAt))}`,
  );
  return [
    ...(cleared.length === 0 ? [] : [['## Cleared'], cleared]),
    ...(changes.length === 0 ? [] : [['## Moved'], changes]),
  ];
}

function faultPart({ judgement }: AuditResult): Blocks {
  const lines = [
    ...judgement.faults.map(
      ({ place, rule, subject, what }) =>
        `- ${markdownText(`${placeWords(place)}: rule ${rule} failed on ${subject}: ${what}`)}`,
    ),
    ...strayWaivers(judgement).map(
      (place) =>
        `- ${markdownText(`${placeWords(place)}: this waiver matches no rule and subject; remove it`)}`,
    ),
  ];
  return lines.length === 0 ? [] : [['## In your files'], lines];
}
