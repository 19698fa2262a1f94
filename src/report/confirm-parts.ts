import type { Confirmation, ConfirmedFinding } from '../change/confirmation.ts';
import type { Growth } from '../drift/night.ts';
import { factWords } from './fact-words.ts';
import { titleWords } from './finding-lines.ts';
import { movedGroups, movedWords } from './moved-words.ts';
import { pathStateWords } from './path-state-words.ts';
import { followerParts, stepParts } from './step-outcome-words.ts';

/** Items of one label that a report shows. */
const shownMax = 20;
/** Findings of one kind, and paths that are as foretold, that it shows. */
const fewShownMax = 8;

/** Something of a confirmation under one label; the tone only repeats what the label says. */
export interface ConfirmPart {
  readonly label: string;
  readonly tone: 'plain' | 'quiet' | 'wrong' | 'unknown';
  /** Texts of files and devices among them: to be cleaned. */
  readonly items: readonly string[];
}

/** A confirmation in words, part by part; what speaks against it first. */
export function confirmParts(confirmation: Confirmation): ConfirmPart[] {
  return [
    ...[...stepParts(confirmation), ...followerParts(confirmation)].map(({ label, tone, items }) =>
      part(label, tone, items),
    ),
    part(
      'not read',
      'unknown',
      confirmation.unread.map(({ node, words }) => `${node}: ${words}`),
    ),
    ...pathParts(confirmation),
    ...findingParts(confirmation),
    ...sinceParts(confirmation),
  ].filter(({ items }) => items.length > 0);
}

function part(
  label: string,
  tone: ConfirmPart['tone'],
  items: readonly string[],
  most = shownMax,
): ConfirmPart {
  const left = items.length - most;
  return { label, tone, items: [...items.slice(0, most), ...(left > 0 ? [`${left} more`] : [])] };
}

function pathParts({ paths, ways }: Confirmation): ConfirmPart[] {
  const those = (verdict: Confirmation['paths'][number]['verdict']) =>
    paths.filter((path) => path.verdict === verdict);
  const against = (verdict: 'less' | 'more' | 'cannot-tell') =>
    those(verdict).map(({ found, foretold, why }) => {
      const [now, then] = [pathStateWords(found), pathStateWords(foretold)];
      const told = now === then ? 'as foretold' : `foretold: ${then.slice(foretold.id.length + 2)}`;
      return `${now}; ${told}${why === undefined ? '' : `; ${why}`}`;
    });
  const way = (verdict: 'less' | 'cannot-tell') =>
    ways.filter((each) => each.verdict === verdict).map(wayWords);
  return [
    part('less', 'wrong', [...against('less'), ...way('less')]),
    part('cannot tell', 'unknown', [...against('cannot-tell'), ...way('cannot-tell')]),
    part('more', 'plain', against('more')),
    part(
      'as foretold',
      'quiet',
      those('as-foretold').map((p) => pathStateWords(p.found)),
      fewShownMax,
    ),
    part(
      'never known',
      'unknown',
      those('never-known').map(({ id }) => `${id}: neither before nor now`),
      fewShownMax,
    ),
  ];
}

function wayWords({ id, what, verdict }: Confirmation['ways'][number]): string {
  if (what === 'leaves')
    return verdict === 'less'
      ? `${id}: it leaves by a port that is not declared`
      : `${id}: by which port it leaves`;
  return verdict === 'less'
    ? `${id}: a router does not pass the sender's largest packet`
    : `${id}: whether every router passes the sender's largest packet`;
}

function findingParts({ findings, upTo, steps }: Confirmation): ConfirmPart[] {
  const { brokenAsForetold: still } = findings;
  // In the middle of a change that is as it has to be, and would hide the rest.
  const foretold =
    upTo < steps.length && still.length > 0
      ? [`${verdictsWords(still.length)} broken until later steps are done`]
      : findingWords(still).map((each) => `broken: ${each}`);
  return [
    part('broken', 'wrong', findingWords(findings.broken), fewShownMax),
    part('not mended', 'wrong', findingWords(findings.notMended), fewShownMax),
    part('cannot tell', 'unknown', findingWords(findings.unknown), fewShownMax),
    part('mended', 'plain', findings.mended.map(titleWords), fewShownMax),
    part('as foretold', 'plain', foretold, fewShownMax),
  ];
}

function verdictsWords(count: number): string {
  return count === 1 ? '1 verdict of a rule that is' : `${count} verdicts of rules that are`;
}

/** One for each cause, with the count of the others. */
function findingWords(findings: readonly ConfirmedFinding[]): string[] {
  const byCause = new Map<string, ConfirmedFinding[]>();
  for (const finding of findings) {
    const known = byCause.get(finding.cause);
    if (known === undefined) byCause.set(finding.cause, [finding]);
    else known.push(finding);
  }
  return [...byCause.values()].flatMap(([first, ...others]) => {
    if (first === undefined) return [];
    const more = others.length === 0 ? '' : `; ${others.length} more of the same cause`;
    return [`${titleWords(first)} (${first.severity})${insteadWords(first)}${more}`];
  });
}

function insteadWords({ foretold }: ConfirmedFinding): string {
  return foretold === undefined ? '' : `; foretold was: ${foretold}`;
}

function sinceParts(confirmation: Confirmation): ConfirmPart[] {
  const { errors, uncounted, bounces, moved } = confirmation;
  return [
    part('errors', 'wrong', errors.map(growthWords)),
    part(
      'not counted',
      'unknown',
      uncounted.map(({ node, byChange }) => {
        const why = byChange ? ', as a step may make them' : '';
        return `${node}: counters began again${why}; errors since the rehearsal are not known`;
      }),
    ),
    part(
      'link down',
      'plain',
      bounces.map((each) => `${growthWords(each)}, beside a step that takes it down`),
    ),
    part(
      'also moved',
      'plain',
      movedGroups(moved).map((group) => movedWords(group, undefined)),
    ),
  ];
}

function growthWords({ node, port, fact, added }: Growth): string {
  return `${node}:${port}: ${factWords(`port.${fact}`)} ${added} more`;
}
