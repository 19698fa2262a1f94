import type { NodeSurvey } from '../facts/survey.ts';
import { wasRead } from '../facts/was-read.ts';
import type { KnownNode } from './known-node.ts';

/** Facts of ports whose course over the nights is drawn, so that stretches without them are kept. */
export const chartedFacts = ['operUp', 'speedMbps', 'duplex', 'mtuBytes'] as const;

/** Something that was read on an earlier night and could not be read tonight. */
export interface Silence {
  readonly node: string;
  /** Absent: the whole node gave no answer. */
  readonly port?: string;
  /** Absent with `port`. */
  readonly fact?: string;
  /** End of the audit that read it last, ISO 8601 UTC. */
  readonly seenAt: string;
}

/**
 * What of a node is silent tonight, given what is known of it after tonight. Of a node that gave no
 * answer that is the node alone: what its ports lacked before stays as it was.
 */
export function silencesOf(known: KnownNode | undefined, now: NodeSurvey): readonly Silence[] {
  if (known === undefined) return [];
  if (!wasRead(now)) return [{ node: now.node, seenAt: known.seenAt }];
  const charted: readonly string[] = chartedFacts;
  return known.older.flatMap(({ port, fact, seenAt }) =>
    port === undefined || !charted.includes(fact) ? [] : [{ node: now.node, port, fact, seenAt }],
  );
}
