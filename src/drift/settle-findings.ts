import type { Finding, Severity } from '../judge/types.ts';
import { severities } from '../judge/types.ts';

/** A finding that was there on the last nights and has not been cleared. */
export interface OpenFinding {
  readonly id: string;
  readonly rule: string;
  readonly policy: string;
  readonly subject: Finding['subject'];
  readonly severity: Severity;
  readonly verdict: 'broken' | 'undetermined' | 'waived';
  readonly what: string;
  readonly cause: string;
  /** Start of the first audit that had it, ISO 8601 UTC. */
  readonly since: string;
  /** Start of the last audit that had it. */
  readonly lastAt: string;
  /** Nights in a row that had it. */
  readonly nights: number;
  /** The operator has been told of it; a soft one waits for a second night. */
  readonly told: boolean;
}

/** What became of a finding between two audits. */
export type Life = 'new' | 'worsened' | 'standing' | 'waiting' | 'cleared';

/** A finding with its life. */
export interface LivingFinding {
  readonly finding: Finding;
  readonly life: Exclude<Life, 'cleared'>;
  readonly since: string;
}

/** Findings of tonight settled against those of the nights before. */
export interface Settlement {
  /** In the order of the findings. */
  readonly living: readonly LivingFinding[];
  /** Told once and gone, in the order they had. */
  readonly cleared: readonly OpenFinding[];
  /** What is open from now on. */
  readonly open: readonly OpenFinding[];
}

/** What is known of tonight's verdicts beyond the findings. */
export interface Tonight {
  /** Start of the audit, ISO 8601 UTC. */
  readonly at: string;
  /**
   * What came of a rule and subject that has no finding tonight: `met`; `gone` where the intent or
   * the policies have it no longer; `unsaid` where the node was not read or does not apply now, so
   * that nothing can be said to have cleared.
   */
  readonly absentVerdict: (finding: OpenFinding) => 'met' | 'gone' | 'unsaid';
}

/**
 * Settles the findings of tonight. A finding of a patient rule is `waiting` until it was there on
 * as many nights as the rule asks for, unless one night is bad beyond doubt. What could not be
 * judged tonight neither clears nor worsens: it stands.
 */
export function settleFindings(
  findings: readonly Finding[],
  before: readonly OpenFinding[],
  tonight: Tonight,
): Settlement {
  const known = new Map(before.map((each) => [each.id, each]));
  const present = new Set(findings.map(({ id }) => id));
  const living = findings.map((finding) => liveOn(finding, known.get(finding.id), tonight));
  const absent = before.filter(({ id }) => !present.has(id));
  const stays = absent.filter((each) => tonight.absentVerdict(each) === 'unsaid');
  const cleared = absent.filter(
    (each) => each.told && each.verdict !== 'waived' && tonight.absentVerdict(each) !== 'unsaid',
  );
  return {
    living: living.map(({ open: _, ...each }) => each),
    cleared,
    open: [...living.map(({ open }) => open), ...stays],
  };
}

function liveOn(
  finding: Finding,
  was: OpenFinding | undefined,
  { at }: Tonight,
): LivingFinding & { readonly open: OpenFinding } {
  const nights = (was?.nights ?? 0) + 1;
  const ripe =
    finding.verdict === 'waived' || nights >= (finding.nights ?? 1) || finding.beyondDoubt === true;
  const life = lifeOf(finding, was, ripe);
  const since = was?.since ?? at;
  const { id, rule, policy, subject, severity, verdict, what, cause } = finding;
  const told = life !== 'waiting';
  // A broken rule that can no longer be read is still the broken rule.
  const kept =
    was?.verdict === 'broken' && verdict === 'undetermined'
      ? was
      : { severity, verdict, what, cause };
  return {
    finding,
    life,
    since,
    open: {
      id,
      rule,
      policy,
      subject,
      severity: kept.severity,
      verdict: kept.verdict,
      what: kept.what,
      cause: kept.cause,
      since,
      lastAt: at,
      nights,
      told: told || was?.told === true,
    },
  };
}

function lifeOf(
  finding: Finding,
  was: OpenFinding | undefined,
  ripe: boolean,
): LivingFinding['life'] {
  if (was === undefined || !was.told) return ripe ? 'new' : 'waiting';
  return isWorse(finding, was) ? 'worsened' : 'standing';
}

const weight = { waived: 0, undetermined: 1, broken: 2 } as const;

/** A graver severity, what was only unknown and is broken now, or a waiver that has ended. */
function isWorse(finding: Finding, was: OpenFinding): boolean {
  if (weight[finding.verdict] > weight[was.verdict]) return true;
  return severities.indexOf(finding.severity) < severities.indexOf(was.severity);
}
