import { judge } from '../judge/judge.ts';
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
  // The same rule on the same subject may be broken by something else, such as the wrong cord.
  const foretoldWhats = new Map(
    foretold.findings.flatMap(({ id, verdict, what }) =>
      verdict === 'broken' ? [[id, what]] : [],
    ),
  );
  const told = ({ id }: Finding) => foretoldWhats.get(id);
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
    broken: newly.filter(({ id }) => then(id) !== 'broken').map(lean),
    brokenAsForetold: newly
      .filter(({ id }) => then(id) === 'broken')
      .map((finding) => besideForetold(finding, told(finding))),
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
  const isOther = foretold !== undefined && foretold !== finding.what;
  return { ...lean(finding), ...(isOther ? { foretold } : {}) };
}

function lean({ id, policy, rule, severity, subject, cause, what }: Finding): ConfirmedFinding {
  return { id, policy, rule, severity, subject, cause, what };
}
