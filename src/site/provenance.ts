import type { Gap, GapReason, Gaps } from '../facts/gap.ts';
import { nodeReadFacts } from '../facts/node-facts.ts';
import { portReadFacts } from '../facts/port-facts.ts';
import type { Provenance } from '../facts/subject.ts';

/** Provenance of what has nothing in common with others. */
export const nothingShared: Provenance = { sources: {}, gaps: {} };

const portReadNames = Object.keys(portReadFacts);
const nodeReadNames = Object.keys(nodeReadFacts);

/** A gap; `cause` names the one thing behind it and others like it. */
export function gapOf(reason: GapReason, words: string, cause?: string): Gap {
  return cause === undefined ? { reason, words } : { reason, words, cause };
}

/** One gap for each of `names`. */
export function sameGap(names: readonly string[], gap: Gap): Gaps {
  return Object.fromEntries(names.map((name) => [name, gap]));
}

/** One gap for everything that a reader learns of a port. */
export function portReadGaps(gap: Gap): Gaps {
  return sameGap(portReadNames, gap);
}

/** One gap for everything that a reader learns of a node. */
export function nodeReadGaps(gap: Gap): Gaps {
  return sameGap(nodeReadNames, gap);
}

/**
 * The cause under which something that waits for all of `gaps` is told: the first, where each has
 * one, since each is then told as a finding of its own. Undefined where one has none.
 */
export function sharedCause(gaps: readonly Gap[]): string | undefined {
  return gaps.every(({ cause }) => cause !== undefined) ? gaps[0]?.cause : undefined;
}

/** Facts and gaps of a subject while it is put together; each fact goes into exactly one. */
export interface Draft {
  readonly facts: Record<string, string | number | boolean | readonly string[] | readonly number[]>;
  readonly gaps: Record<string, Gap>;
  readonly sources: Record<string, string>;
}

/** An empty draft. */
export function newDraft(): Draft {
  return { facts: {}, gaps: {}, sources: {} };
}

/** Enters a value, or the reason for its absence; neither leaves the fact out without a reason. */
export function put(
  draft: Draft,
  name: string,
  value: Draft['facts'][string] | undefined,
  gap?: Gap,
): void {
  if (value !== undefined) draft.facts[name] = value;
  else if (gap !== undefined) draft.gaps[name] = gap;
}

/** The exceptions of one subject. */
export function ownProvenance(draft: Draft): Provenance {
  return { sources: draft.sources, gaps: draft.gaps };
}
