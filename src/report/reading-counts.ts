import { wasRead } from '../facts/was-read.ts';
import type { SiteNode } from '../site/types.ts';
import type { AuditResult } from './types.ts';

/** Nodes that somebody tried to read. */
export function askedNodes({ site }: Pick<AuditResult, 'site'>): readonly SiteNode[] {
  return site.nodes.filter(({ survey }) => (survey?.readings.length ?? 0) > 0);
}

/**
 * End of the last audit of which every node answered that may not be away: of the history where
 * one is kept, else of this audit; absent: none did, or nothing was read.
 */
export function lastCompleteAt(result: AuditResult): string | undefined {
  if (result.moved !== undefined) return result.moved.lastCompleteAt;
  const { survey } = result;
  if (survey === undefined) return undefined;
  const asked = askedNodes(result);
  const missed = asked.filter(
    (node) => !wasRead(node.survey) && !node.declared.sleeps && !node.declared.mayBeAbsent,
  );
  return asked.length > 0 && missed.length === 0 ? survey.endedAt : undefined;
}
