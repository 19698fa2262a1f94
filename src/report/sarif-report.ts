import type { OpenFinding } from '../drift/settle-findings.ts';
import { stableJsonPieces } from '../facts/json.ts';
import type { Finding, Severity } from '../judge/types.ts';
import { titleWords } from './finding-lines.ts';
import { clean } from './layout.ts';
import { sarifLocations, sarifPlace } from './sarif-place.ts';
import { seenWords } from './seen-words.ts';
import type { AuditResult } from './types.ts';

/** The published schema of the form. */
const schemaUri =
  'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

/** SARIF calls what RFC 5424 calls a notice a note. */
const levels: Readonly<Record<Severity, string>> = {
  error: 'error',
  warning: 'warning',
  notice: 'note',
};

/** Names the way in which `partialFingerprints` are made. */
const fingerprintName = 'hopgaugeFinding/v1';

/**
 * The findings as SARIF 2.1.0, each at the line of the intent that declares its subject. What is
 * broken has the kind `fail` and its severity as level. What could not be judged has the kind
 * `open`, of which the standard says that its level is `none` (3.27.9, 3.27.10); its severity is
 * among its properties. A waiver is a suppression. After the first audit of a history each result
 * has a `baselineState`, and what cleared is `absent`.
 */
export function sarifReport(result: AuditResult): Iterable<string> {
  const rules = rulesOf(result);
  const indexOf = new Map(rules.map(({ id }, at) => [id, at]));
  const located = (each: Ruled) => ({ ruleId: ruleId(each), ruleIndex: indexOf.get(ruleId(each)) });
  const baselineOf = baselines(result);
  // One by one: there may be hundreds of thousands.
  function* results() {
    for (const finding of result.judgement.findings)
      yield { ...located(finding), ...resultOf(finding, result), ...baselineOf(finding.id) };
    for (const finding of result.moved?.settlement.cleared ?? [])
      yield { ...located(finding), ...absentResult(finding) };
  }
  return stableJsonPieces({
    $schema: schemaUri,
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'hopgauge', version: result.toolVersion, rules } },
        automationDetails: {
          id: `hopgauge/${encodeURIComponent(clean(result.site.intent.site))}/`,
        },
        columnKind: 'utf16CodeUnits',
        invocations: [invocationOf(result)],
        results: results(),
      },
    ],
  });
}

type Ruled = Pick<Finding, 'policy' | 'rule'>;

function ruleId({ policy, rule }: Ruled): string {
  return clean(`${policy}/${rule}`);
}

/** Rules that have a result, by name; the level is that of the rule. */
function rulesOf({ judgement, moved }: AuditResult) {
  const known = new Map<
    string,
    Ruled & { readonly severity: Severity; readonly source?: string }
  >();
  for (const each of [...(moved?.settlement.cleared ?? []), ...judgement.findings]) {
    known.set(ruleId(each), each);
  }
  return [...known]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([id, { policy, rule, severity, source }]) => ({
      id,
      name: clean(rule),
      defaultConfiguration: { level: levels[severity] },
      ...(source === undefined ? {} : { help: { text: clean(`after ${source}`) } }),
      properties: { policy: clean(policy), severity },
    }));
}

function invocationOf({ startedAt, endedAt, judgement }: AuditResult) {
  return {
    startTimeUtc: startedAt,
    endTimeUtc: endedAt,
    executionSuccessful: judgement.faults.length === 0,
    toolConfigurationNotifications: judgement.faults.map(({ rule, subject, what, place }) => ({
      level: 'error',
      message: { text: clean(`rule ${rule} failed on ${subject}: ${what}`) },
      locations: [{ physicalLocation: sarifPlace(place) }],
    })),
  };
}

function resultOf(finding: Finding, result: AuditResult) {
  const { severity, verdict, beneath, subject, declaredAt, id, waiver } = finding;
  const isOpen = (beneath ?? verdict) === 'undetermined';
  return {
    kind: isOpen ? 'open' : 'fail',
    level: isOpen ? 'none' : levels[severity],
    message: { text: messageOf(finding, result) },
    locations: sarifLocations(subject, declaredAt),
    partialFingerprints: { [fingerprintName]: id },
    suppressions: waiver === undefined ? [] : [suppressionOf(waiver)],
    properties: { severity, verdict, cause: clean(finding.cause) },
  };
}

function messageOf(finding: Finding, { site }: AuditResult): string {
  const { advice } = finding;
  const parts = [
    titleWords(finding),
    `seen: ${seenWords(finding, site, false)}`,
    ...(advice === undefined ? [] : [`do: ${advice}`]),
  ];
  return parts.map(clean).join('\n');
}

function suppressionOf({ until, because, place }: NonNullable<Finding['waiver']>) {
  return {
    kind: 'external',
    status: 'accepted',
    justification: clean(`${because} (until ${until})`),
    location: { physicalLocation: sarifPlace(place) },
  };
}

/** The first audit of a history has no baseline. What waits to be told is as old as its nights. */
function baselines({ moved, startedAt }: AuditResult) {
  if (moved === undefined || moved.first) return () => ({});
  const living = new Map(moved.settlement.living.map((each) => [each.finding.id, each]));
  return (id: string) => {
    const own = living.get(id);
    if (own === undefined) return {};
    if (own.life === 'worsened') return { baselineState: 'updated' };
    return { baselineState: own.since === startedAt ? 'new' : 'unchanged' };
  };
}

function absentResult({ id, subject, severity, verdict, what, cause }: OpenFinding) {
  const isOpen = verdict === 'undetermined';
  return {
    kind: isOpen ? 'open' : 'fail',
    level: isOpen ? 'none' : levels[severity],
    message: { text: clean(what) || 'no longer there' },
    locations: sarifLocations(subject, undefined),
    partialFingerprints: { [fingerprintName]: id },
    baselineState: 'absent',
    properties: { severity, verdict, cause: clean(cause) },
  };
}
