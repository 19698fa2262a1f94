import type { ClosedNight } from '../drift/close-night.ts';
import type { KeptResult } from '../drift/kept-result.ts';
import type { KnownNode } from '../drift/known-node.ts';
import type { FactValue } from '../facts/entry.ts';
import { byName } from '../facts/order.ts';
import type { Survey } from '../facts/survey.ts';
import { wasRead } from '../facts/was-read.ts';
import type { LastValueOf } from '../report/page/past/port-courses.ts';
import type { AuditResult } from '../report/types.ts';
import { buildSite } from '../site/build-site.ts';

/** What the history keeps of an audit, so that pages can be written of it. */
export function keepAudit(result: AuditResult, survey: Survey, closed: ClosedNight): KeptResult {
  const { site, judgement, startedAt, endedAt, toolVersion, strict, least } = result;
  const { watched: _, ...judged } = judgement;
  const { night: __, ...moved } = closed;
  const { startedAt: readFrom, endedAt: readTo, fits, transfers } = survey;
  return {
    intent: site.intent,
    judgement: judged,
    // All that is open is told again beside each finding.
    moved: { ...moved, settlement: { ...moved.settlement, open: [] } },
    survey: {
      ...{ startedAt: readFrom, endedAt: readTo },
      ...(fits === undefined ? {} : { fits }),
      ...(transfers === undefined ? {} : { transfers }),
    },
    unread: survey.nodes.filter((node) => !wasRead(node)),
    startedAt,
    endedAt,
    toolVersion,
    strict,
    least,
  };
}

/**
 * The latest audit again: its verdicts as they were, on the readings of that night. Nodes that it
 * did not read are not read here either, whatever is known of them from earlier.
 */
export function keptAudit(
  kept: KeptResult,
  known: ReadonlyMap<string, KnownNode>,
): AuditResult & { readonly survey: Survey } {
  const { intent, judgement, unread, startedAt, endedAt, toolVersion, strict, least } = kept;
  const silent = new Set(unread.map(({ node }) => node));
  const read = [...known.values()].filter(
    ({ node, seenAt }) => seenAt === endedAt && !silent.has(node),
  );
  const nodes = [...read.map(({ survey }) => survey), ...unread].sort((a, b) =>
    byName(a.node, b.node),
  );
  const survey: Survey = { survey: 1, site: intent.site, ...kept.survey, nodes };
  return {
    site: buildSite(intent, survey, { strict }),
    judgement: { ...judgement, watched: new Map() },
    survey,
    startedAt,
    endedAt,
    toolVersion,
    strict,
    least,
    moved: kept.moved,
  };
}

/** The last known value of a fact of a port, from whatever night. */
export function lastValues(known: ReadonlyMap<string, KnownNode>): LastValueOf {
  const ports = new Map<string, ReadonlyMap<string, KnownNode['survey']['ports'][number]>>();
  return (node, port, fact): FactValue | undefined => {
    const of = known.get(node);
    if (of === undefined) return undefined;
    const own = ports.get(node) ?? new Map(of.survey.ports.map((each) => [each.name, each]));
    ports.set(node, own);
    const facts: Readonly<Record<string, FactValue | undefined>> = own.get(port)?.facts ?? {};
    return facts[fact] ?? of.older.find((each) => each.port === port && each.fact === fact)?.value;
  };
}
