import type { FactValue } from '../facts/entry.ts';
import { stableJsonPieces } from '../facts/json.ts';
import { sourceOf } from '../facts/subject.ts';
import { wasRead } from '../facts/was-read.ts';
import type { Hop, SiteDirection, SiteNode, SitePath } from '../site/types.ts';
import { causeGroups } from './cause-groups.ts';
import { type LinkOf, linkFinder, ratedOf } from './link-rating.ts';
import { movedJson } from './moved-json.ts';
import type { JsonReport } from './report-schema.ts';
import { resultStatus } from './result-status.ts';
import { countOnWord } from './tally.ts';
import type { AuditResult } from './types.ts';

/** The report as JSON: equal results give equal bytes. Its form is `report.schema.json`. */
export function jsonReport(result: AuditResult): Iterable<string> {
  return stableJsonPieces({ ...jsonOf(result), findings: findingsOf(result) });
}

function jsonOf(result: AuditResult): Omit<JsonReport, 'findings'> {
  const { site, judgement, survey } = result;
  const { met, broken, undetermined, waived } = judgement.tally;
  const linkOf = linkFinder(site);
  const directions = directionsByPath(site.directions);
  return {
    report: 1,
    toolVersion: result.toolVersion,
    site: site.intent.site,
    intentFiles: [...site.intent.files],
    startedAt: result.startedAt,
    endedAt: result.endedAt,
    survey: survey && { startedAt: survey.startedAt, endedAt: survey.endedAt },
    strict: result.strict,
    least: result.least,
    exitStatus: resultStatus(result),
    tally: {
      judged: met + broken + undetermined + waived,
      ...judgement.tally,
      hopsOnWord: countOnWord(site),
    },
    paths: site.paths.map((path) => pathOf(path, linkOf, directions.get(path.id) ?? [])),
    nodes: site.nodes.map(nodeOf),
    causes: causeGroups(judgement.findings).map(({ cause, lead, others }) => ({
      cause,
      findings: [lead, ...others].map(({ id }) => id),
    })),
    faults: [...judgement.faults],
    waiversExpired: [...judgement.waiversExpired],
    moved: movedJson(result),
  };
}

/** Made one by one: there may be hundreds of thousands. */
function* findingsOf({ judgement }: AuditResult): Iterable<JsonReport['findings'][number]> {
  for (const finding of judgement.findings) {
    const evidence = finding.evidence.map((each) => ({ ...each, value: plain(each.value) }));
    yield { ...finding, evidence };
  }
}

function pathOf(
  path: SitePath,
  linkOf: LinkOf,
  directions: readonly SiteDirection[],
): JsonReport['paths'][number] {
  const { id, declared, from, to, hops, subject } = path;
  const known = Object.entries(subject.facts).flatMap(([name, value]) => {
    const there = plain(value);
    return there === undefined ? [] : [[name, there] as const];
  });
  return {
    id,
    name: declared.name,
    from,
    to,
    declaredAt: declared.place,
    facts: Object.fromEntries(known),
    hops: hops.map((hop) => hopOf(hop, linkOf)),
    ...proofsOf(directions),
  };
}

function directionsByPath(directions: readonly SiteDirection[]) {
  const byPath = new Map<string, SiteDirection[]>();
  for (const direction of directions) {
    const own = byPath.get(direction.path);
    if (own === undefined) byPath.set(direction.path, [direction]);
    else own.push(direction);
  }
  return byPath;
}

function proofsOf(
  directions: readonly SiteDirection[],
): Pick<JsonReport['paths'][number], 'proofs'> {
  const proofs = directions.flatMap(({ from, to, subject: { facts } }) => {
    if (facts['isProven'] !== true && facts['isMeasured'] !== true) return [];
    return [
      {
        ...{ from, to },
        provenOn: textOf(facts['provenOn']),
        provenMtuBytes: numberOf(facts['provenMtuBytes']),
        provenLostBytes: numberOf(facts['provenLostBytes']),
        proofAgainst: textOf(facts['proofAgainst']),
        measuredOn: textOf(facts['measuredOn']),
        measuredGoodputMbps: numberOf(facts['measuredGoodputMbps']),
      },
    ];
  });
  return proofs.length === 0 ? {} : { proofs };
}

function textOf(value: FactValue | undefined): string | undefined {
  return typeof value === 'string' ? value : undefined;
}

function numberOf(value: FactValue | undefined): number | undefined {
  return typeof value === 'number' ? value : undefined;
}

function hopOf(hop: Hop, linkOf: LinkOf): JsonReport['paths'][number]['hops'][number] {
  const { mtuBytes } = hop.port.subject.facts;
  const read = typeof mtuBytes === 'number' ? mtuBytes : undefined;
  return {
    port: hop.port.id,
    node: hop.port.node,
    position: hop.position,
    distance: hop.distance,
    layer: hop.layer,
    ...hop.clearance,
    mtuBytes: read,
    mtuSource: read === undefined ? undefined : sourceOf(hop.port.subject, 'mtuBytes'),
    speedMbps: hop.speedMbps,
    ratedMbps: ratedOf(hop, linkOf),
    duplex: hop.duplex,
    narrowest: hop.narrowest,
    slowest: hop.slowest,
    inUse: hop.inUse,
    idleBecause: hop.idleBecause,
    link: hop.linkId,
    runToNext: hop.runToNext.map(({ kind, text, label }) => ({ kind, text, label })),
  };
}

function nodeOf({ declared, survey }: SiteNode): JsonReport['nodes'][number] {
  const readings = survey?.readings ?? [];
  return {
    name: declared.name,
    unread: declared.unread,
    read: wasRead(survey),
    readings: readings.map(({ by, at, startedAt, tookMs, trouble }) => ({
      by,
      at,
      startedAt,
      tookMs,
      trouble: trouble && { kind: trouble.kind, seen: trouble.seen, remedy: trouble.remedy },
    })),
  };
}

/** A value as JSON has it: a list that may be written to. */
function plain(value: FactValue | undefined): PlainValue | undefined {
  return typeof value === 'object' ? [...value] : value;
}

type PlainValue = number | string | boolean | (number | string)[];
