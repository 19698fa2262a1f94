import { factTopics } from '../facts/fact-topics.ts';
import type { ReadTopic } from '../facts/read-topics.ts';
import type { Policy } from './policy.ts';

/** What is worth reading for the rules of some policies, and no more. */
export function topicsOf(policies: readonly Policy[]): ReadonlySet<ReadTopic> {
  return new Set(
    policies.flatMap(({ rules }) =>
      rules.flatMap(({ judges, facts }) => facts.flatMap((fact) => [...factTopics(judges, fact)])),
    ),
  );
}
