import type { SubjectKind } from '../facts/dictionary.ts';
import type { Subject } from '../facts/subject.ts';
import type { Waiver } from '../intent/types.ts';
import { absentNodes } from './absent-nodes.ts';
import { endedWaivers } from './ended-waivers.ts';
import { explainVerdict, type FindingContext, makeFinding } from './make-finding.ts';
import { onlyRead } from './only-read.ts';
import type { Policy, Rule } from './policy.ts';
import { ruleFailure } from './term.ts';
import {
  type Finding,
  type Judgement,
  type RuleFault,
  severities,
  type WatchedPair,
} from './types.ts';
import { expiredWaivers, type WaiversSeen, waiverFinder, waiversSeen } from './waivers.ts';
import { type Watch, watchPairs } from './watch-pairs.ts';

/** What judging needs besides subjects and policies. */
export interface JudgeOptions {
  readonly waivers: readonly Waiver[];
  /** ISO 8601 date, or a time of which the date counts. */
  readonly now: string;
  /** What is known from the intent alone is undetermined, not met. */
  readonly strict?: boolean;
  /** Pairs of which the outcome is wanted although they may be no findings. */
  readonly watch?: readonly WatchedPair[];
}

interface Bench extends FindingContext {
  /** Findings by severity and verdict, each in the order of subjects and rules. */
  readonly shelves: readonly Finding[][];
  readonly faults: RuleFault[];
  readonly tally: Tally;
  readonly watch: Watch;
  readonly waiversSeen: WaiversSeen;
}

type Tally = { -readonly [K in keyof Judgement['tally']]-?: number };

const shelved = ['broken', 'undetermined', 'waived'] as const;

/**
 * Judges every subject by every rule of its kind. Pure: equal subjects, policies, waivers and day
 * give equal findings, in the order of severity, verdict, subjects as given, and rules.
 */
export function judge(
  subjects: readonly Subject[],
  policies: readonly Policy[],
  options: JudgeOptions,
): Judgement {
  const rules = policies.flatMap((policy) => policy.rules);
  const judged = options.strict === true ? onlyRead(subjects) : subjects;
  const bench: Bench = {
    waiverOf: waiverFinder(options.waivers, options.now),
    absentNodes: absentNodes(judged),
    shelves: Array.from({ length: severities.length * shelved.length }, () => []),
    faults: [],
    watch: watchPairs(options.watch ?? []),
    waiversSeen: waiversSeen(),
    tally: { met: 0, broken: 0, undetermined: 0, waived: 0, notApplicable: 0, excused: 0 },
  };
  const byKind = rulesByKind(rules);
  for (const subject of judged) {
    for (const counted of byKind.get(subject.kind) ?? []) judgeOne(counted, subject, bench);
  }
  for (const finding of endedWaivers(options, rules)) {
    bench.tally.broken += 1;
    bench.shelves[shelfOf(finding)]?.push(finding);
  }
  return {
    findings: bench.shelves.flat(),
    faults: bench.faults,
    tally: bench.tally,
    metByRule: [...byKind.values()]
      .flat()
      .filter(({ met }) => met > 0)
      .map(({ rule: { policy, rule }, met }) => ({ policy, rule, met })),
    waiversExpired: expiredWaivers(options, rules, judged),
    waiversMet: bench.waiversSeen.onlyMet(),
    watched: bench.watch.seen,
  };
}

/** An audit that judged nothing is not a success: no rule met or missed any subject. */
export function judgedNothing({ tally }: Pick<Judgement, 'tally'>): boolean {
  return tally.met + tally.broken + tally.undetermined + tally.waived === 0;
}

/** A rule with the number of subjects on which it was met. */
interface CountedRule {
  readonly rule: Rule;
  met: number;
}

function rulesByKind(rules: readonly Rule[]): ReadonlyMap<SubjectKind, readonly CountedRule[]> {
  const byKind = new Map<SubjectKind, CountedRule[]>();
  for (const rule of rules) {
    const ofKind = byKind.get(rule.judges) ?? [];
    ofKind.push({ rule, met: 0 });
    byKind.set(rule.judges, ofKind);
  }
  return byKind;
}

function judgeOne(counted: CountedRule, subject: Subject, bench: Bench): void {
  const { rule } = counted;
  try {
    const applies = rule.when === undefined ? true : rule.when.test(subject);
    if (applies === false) {
      bench.tally.notApplicable += 1;
      bench.watch.see(rule, subject, 'notApplicable');
      return;
    }
    if (applies === true && rule.holds.test(subject) === true) {
      bench.tally.met += 1;
      counted.met += 1;
      bench.watch.see(rule, subject, 'met');
      bench.waiversSeen.met(bench.waiverOf(rule.rule, subject));
      return;
    }
    shelve(rule, subject, bench);
  } catch (error) {
    bench.faults.push(ruleFault(rule, subject, error));
  }
}

function shelve(rule: Rule, subject: Subject, bench: Bench): void {
  const explained = explainVerdict(rule, subject, bench);
  if (explained.excused) {
    bench.tally.excused += 1;
    bench.watch.see(rule, subject, 'excused');
    bench.waiversSeen.notMet(bench.waiverOf(rule.rule, subject));
    return;
  }
  const finding = makeFinding(rule, subject, explained, bench);
  bench.waiversSeen.notMet(bench.waiverOf(rule.rule, subject));
  bench.tally[finding.verdict] += 1;
  bench.shelves[shelfOf(finding)]?.push(finding);
}

function shelfOf({ severity, verdict }: Finding): number {
  return severities.indexOf(severity) * shelved.length + shelved.indexOf(verdict);
}

function ruleFault({ policy, rule, place }: Rule, subject: Subject, error: unknown): RuleFault {
  // Anything but a failure of the rule is a bug of ours and must not pass for a finding.
  if (!(error instanceof Error) || error.cause !== ruleFailure) throw error;
  return { policy, rule, subject: subject.id, what: error.message, place };
}
