import type { Subject } from '../facts/subject.ts';
import type { Rule } from './policy.ts';
import type { WatchedPair, WatchedVerdict } from './types.ts';

/** The outcome of some pairs, noted while all are judged. */
export interface Watch {
  readonly see: (rule: Rule, subject: Subject, verdict: WatchedVerdict) => void;
  readonly seen: ReadonlyMap<string, WatchedVerdict>;
}

/** Watches some pairs; a rule that none of them names costs one look-up. */
export function watchPairs(pairs: readonly WatchedPair[]): Watch {
  const byRule = new Map<string, Map<string, string>>();
  for (const { id, rule, subject } of pairs) {
    const ofRule = byRule.get(rule) ?? new Map<string, string>();
    ofRule.set(subject.id, id);
    byRule.set(rule, ofRule);
  }
  const seen = new Map<string, WatchedVerdict>();
  return {
    see: ({ rule }, subject, verdict) => {
      const id = byRule.get(rule)?.get(subject.id);
      if (id !== undefined) seen.set(id, verdict);
    },
    seen,
  };
}
