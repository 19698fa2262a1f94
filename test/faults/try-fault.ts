import { explainTarget } from '../../src/diagnose/explain-target.ts';
import { findTarget } from '../../src/diagnose/find-target.ts';
import { judge } from '../../src/judge/judge.ts';
import type { Policy } from '../../src/judge/policy.ts';
import type { Finding, Judgement } from '../../src/judge/types.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import type { Site } from '../../src/site/types.ts';
import { loadShipped } from '../judge/shipped.ts';
import { allPolicies, siteOf } from './described.ts';
import type { Fault } from './fault.ts';

/** What the whole way from intent and survey to findings and explanation made of one fault. */
export interface Outcome {
  readonly fault: Fault;
  /** Every rule told of it that must. */
  readonly detected: boolean;
  /** One of them names the hop, port or link. */
  readonly located: boolean;
  /** Absent: no link and no path has it. */
  readonly explained?: boolean;
  /** Causes behind what is told at error or warning. */
  readonly causes: readonly string[];
  /** Told of the network after it was mended, at error or warning, or explained as a fault. */
  readonly falseAlarms: readonly string[];
  /** Notices on it. */
  readonly notices: readonly string[];
  /** Why it is not as it should be, for whoever mends it. */
  readonly seen: readonly string[];
}

const policies: readonly Policy[] = await loadShipped(...allPolicies);

/** Judges and explains one fault and its healthy twin. */
export async function tryFault(fault: Fault): Promise<Outcome> {
  const [sick, healthy] = [await siteOf(fault.sick), await siteOf(fault.healthy)];
  const { findings, faults } = judgeSite(sick);
  const grave = findings.filter(({ severity }) => severity !== 'notice');
  const hits = findings.filter((finding) => isWanted(fault, finding));
  const missing = fault.finds.filter((rule) => !hits.some((hit) => hit.rule === rule));
  const explained = explains(fault, sick);
  return {
    fault,
    detected: faults.length === 0 && (isSilent(fault) ? grave.length === 0 : missing.length === 0),
    located: isSilent(fault) || hits.some((hit) => names(hit, fault.at)),
    ...(explained === undefined ? {} : { explained }),
    causes: [...new Set(grave.map(({ cause }) => cause))],
    ...alarmsOn(healthy, fault),
    seen: [
      ...missing.map((rule) => `not told: ${rule}`),
      ...findings.map(lineOf),
      ...(explained === false ? firstWords(fault, sick) : []),
    ],
  };
}

function judgeSite(site: Site): Judgement {
  return judge(subjectsOf(site), policies, { waivers: [], now: '2026-11-25' });
}

function isSilent({ finds }: Fault): boolean {
  return finds.length === 0;
}

function isWanted({ finds, verdict = 'broken' }: Fault, finding: Finding): boolean {
  return finding.verdict === verdict && finds.includes(finding.rule);
}

function names({ cause, subject, what }: Finding, at: string): boolean {
  return [cause, subject.id, what].some((text) => text.includes(at));
}

function lineOf({ rule, subject, verdict, cause, what }: Finding): string {
  return `${rule} ${subject.id} ${verdict} [${cause}]: ${what}`;
}

function partOf(site: Site, target: string) {
  const found = findTarget(site, target);
  if (!found.ok) throw new Error(`no target ${target}`);
  return explainTarget(site, found.target).parts[0];
}

function explains({ explains: wanted }: Fault, site: Site): boolean | undefined {
  if (wanted === undefined) return undefined;
  const part = partOf(site, wanted.target);
  if (wanted.kind === undefined) {
    const told = part?.cannotTell.some((text) => text.includes(wanted.names)) ?? false;
    return told && part?.standing === 'cannot-tell';
  }
  const first = part?.causes[0];
  return first?.kind === wanted.kind && first.what.includes(wanted.names);
}

function firstWords({ explains: wanted }: Fault, site: Site): readonly string[] {
  const part = partOf(site, wanted?.target ?? '');
  const causes = part?.causes.map(({ kind, certainty, what }) => `${certainty} ${kind}: ${what}`);
  return ['explain says:', `  ${part?.standing}`, ...(causes ?? []), ...(part?.cannotTell ?? [])];
}

function alarmsOn(site: Site, fault: Fault): Pick<Outcome, 'falseAlarms' | 'notices'> {
  const { findings, faults } = judgeSite(site);
  const told = findings.filter(({ severity }) => severity !== 'notice').map(lineOf);
  const target = fault.explains?.target;
  const part = target === undefined ? undefined : partOf(site, target);
  const said = part === undefined || part.standing === 'no-fault' ? [] : [`explain: ${part.says}`];
  const broke = faults.map(({ rule, what }) => `${rule} failed: ${what}`);
  return {
    falseAlarms: [...told, ...said, ...broke],
    notices: findings.filter(({ severity }) => severity === 'notice').map(lineOf),
  };
}
