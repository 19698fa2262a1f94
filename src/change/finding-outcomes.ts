import { judge } from '../judge/judge.ts';
import { unknownText } from '../judge/load-template.ts';
import type { Finding, Judgement, WatchedPair } from '../judge/types.ts';
import { buildSite } from '../site/build-site.ts';
import { subjectsOf } from '../site/subjects-of.ts';
import type { Site } from '../site/types.ts';
import type { ConfirmBench } from './confirm-stage.ts';
import type { ConfirmedFinding, FindingOutcomes } from './confirmation.ts';
import type { Placed } from './placed.ts';
import { sayingAnew } from './step-verdicts.ts';

/** What the rules in force come to now, against before the change and what was foretold. */
export function findingOutcomes({ bench, otherwise }: Placed): FindingOutcomes {
  const before = judged(bench, buildSite(bench.before, bench.kept, { strict: false }));
  const open = before.findings.filter(({ verdict }) => verdict === 'broken');
  const foretold = judged(bench, bench.foretoldSite, open);
  const now = judged(bench, bench.foundSite, [...before.findings, ...foretold.findings]);
  const was = outcomesOf(before);
  const then = outcomesOf(foretold);
  const is = outcomesOf(now);
  const told = brokenWhats(foretold);
  // Good news that rests on a step of which nobody can tell is not known.
  const unsure = otherwise && outcomesOf(judged(bench, otherwise, before.findings));
  const isMended = (id: string) => good(is(id)) && (unsure === undefined || good(unsure(id)));
  const newly = now.findings.filter(
    ({ id, verdict }) => verdict === 'broken' && was(id) !== 'broken',
  );
  const isSaidAnew = sayingAnew(newly);
  const stayed = now.findings.filter(
    ({ id, verdict }) => verdict === 'broken' && was(id) === 'broken' && good(then(id)),
  );
  return {
    mended: open.filter((each) => isMended(each.id) && !isSaidAnew(each)).map(lean),
    notMended: stayed.map(lean),
    broken: newly
      .filter((finding) => !isAsForetold(finding, told(finding.id)))
      .map((finding) => besideForetold(finding, told(finding.id))),
    brokenAsForetold: newly.filter((finding) => isAsForetold(finding, told(finding.id))).map(lean),
    unknown: [
      ...unknowns({ before, foretold, now }),
      ...open.filter(({ id }) => good(is(id)) && !isMended(id)),
    ].map(lean),
  };
}

type Outcome = 'met' | 'broken' | 'undetermined' | 'waived' | 'notApplicable' | 'excused';

function judged(
  { policies, now, foretold: { intent } }: ConfirmBench,
  site: Site,
  watch: readonly WatchedPair[] = [],
): Judgement {
  return judge(subjectsOf(site), policies, { waivers: intent.waivers, now, watch });
}

/** By id; undefined: met, or not judged at all, of what was not watched. */
function outcomesOf({ findings, watched }: Judgement): (id: string) => Outcome | undefined {
  const byId = new Map<string, Outcome>([
    ...watched,
    ...findings.map(({ id, verdict }) => [id, verdict] as const),
  ]);
  return (id) => byId.get(id);
}

/** What is broken, in words, by the id of its finding; undefined: it is not broken. */
function brokenWhats({ findings }: Judgement): (id: string) => string | undefined {
  const whats = new Map<string, string>();
  for (const { id, verdict, what } of findings) if (verdict === 'broken') whats.set(id, what);
  return (id) => whats.get(id);
}

/**
 * The same rule on the same subject may be broken by something else, such as the wrong cord. A text
 * of which a part cannot be read now is nothing else than foretold as far as can be seen.
 */
function isAsForetold({ what }: Finding, foretold: string | undefined): boolean {
  return foretold !== undefined && (what === foretold || what.includes(unknownText));
}

/** What is only not asked any more is not mended. */
function good(outcome: Outcome | undefined): boolean {
  return outcome === 'met' || outcome === 'waived';
}

interface Judgements {
  readonly before: Judgement;
  readonly foretold: Judgement;
  readonly now: Judgement;
}

/** What cannot be told now, and could be before the change or was foretold to be. */
function unknowns({ before, foretold, now }: Judgements): Finding[] {
  const was = outcomesOf(before);
  const then = outcomesOf(foretold);
  const is = outcomesOf(now);
  const undetermined = now.findings.filter(
    ({ id, verdict }) =>
      verdict === 'undetermined' && !(was(id) === 'undetermined' && then(id) === 'undetermined'),
  );
  // Of a node that is away, or of a rule that failed, silence is no good news.
  const lost = before.findings.filter(({ id, verdict }) => {
    const outcome = is(id);
    const isGone = outcome === undefined || outcome === 'notApplicable';
    const silent = outcome === 'excused' || (isGone && good(then(id)));
    return verdict === 'broken' && silent;
  });
  return [...undetermined, ...lost];
}

function besideForetold(finding: Finding, foretold: string | undefined): ConfirmedFinding {
  return { ...lean(finding), ...(foretold === undefined ? {} : { foretold }) };
}

function lean({ id, policy, rule, severity, subject, cause, what }: Finding): ConfirmedFinding {
  return { id, policy, rule, severity, subject, cause, what };
}
