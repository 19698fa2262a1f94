import type { Finding, RuleFault } from '../judge/types.ts';
import { atLeast } from './exit-status.ts';
import { placeWords } from './fact-words.ts';
import { titleWords } from './finding-lines.ts';
import { clean } from './layout.ts';
import { seenWords } from './seen-words.ts';
import { summaryLine } from './summary-line.ts';
import type { AuditResult } from './types.ts';
import { xmlElement, xmlStart, xmlText } from './xml.ts';

/**
 * The findings as JUnit XML, in the form of the Ant JUnit schema (common practice: there is no
 * standard). A suite is a policy, a case a rule on a subject. What is broken at or above `least` is
 * a failure; what could not be judged, and a rule that failed, is an error, never skipped, since
 * not known is not good; what is waived or beneath `least` is skipped. `tests` counts what was met
 * too, of which each rule has one case.
 */
export function* junitReport(result: AuditResult): Iterable<string> {
  const policies = policiesOf(result);
  yield '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites>';
  for (const [id, policy] of policies.entries()) yield* suiteOf(policy, id, result);
  yield '\n</testsuites>\n';
}

type Metric = NonNullable<AuditResult['judgement']['metByRule']>[number];

interface Case {
  readonly classname: string;
  readonly name: string;
  readonly outcome: 'met' | 'failure' | 'error' | 'skipped';
  readonly content: string;
}

function policiesOf({ judgement }: AuditResult): readonly string[] {
  const { findings, faults, metByRule = [] } = judgement;
  return [...new Set([...metByRule, ...findings, ...faults].map(({ policy }) => policy))].sort();
}

function* suiteOf(policy: string, id: number, result: AuditResult): Iterable<string> {
  const { findings, faults, metByRule = [] } = result.judgement;
  const own = <T extends { readonly policy: string }>(each: T) => each.policy === policy;
  const met = metByRule.filter(own);
  const ownFindings = findings.filter(own);
  const ownFaults = faults.filter(own);
  const count = (outcome: Case['outcome']) =>
    ownFindings.filter((each) => outcomeOf(each, result) === outcome).length;
  const seconds = Math.max(0, Date.parse(result.endedAt) - Date.parse(result.startedAt)) / 1000;
  const tests = ownFindings.length + ownFaults.length;
  const attributes = {
    name: token(policy),
    package: token(result.site.intent.site),
    id,
    timestamp: result.startedAt.slice(0, 'YYYY-MM-DDThh:mm:ss'.length),
    hostname: 'localhost',
    tests: tests + met.reduce((sum, each) => sum + each.met, 0),
    failures: count('failure'),
    errors: count('error') + ownFaults.length,
    skipped: count('skipped'),
    time: seconds,
  };
  yield `\n${xmlStart('testsuite', attributes)}\n`;
  yield `${xmlElement('properties', {}, propertiesOf(result))}\n`;
  for (const each of met) yield `${metCase(each)}\n`;
  // One by one: there may be hundreds of thousands.
  for (const finding of ownFindings) yield `${caseOf(findingCase(finding, result))}\n`;
  for (const fault of ownFaults) yield `${caseOf(faultCase(fault))}\n`;
  yield `${xmlElement('system-out', {}, xmlText(summaryLine(result)))}\n`;
  yield `${xmlElement('system-err', {})}\n</testsuite>`;
}

function propertiesOf({ toolVersion, site, least, strict }: AuditResult): string {
  const given = { site: site.intent.site, toolVersion, least, strict: String(strict) };
  return Object.entries(given)
    .map(([name, value]) => xmlElement('property', { name, value: clean(value) }))
    .join('');
}

/** A name that the schema wants; an empty one would be refused. */
function token(text: string): string {
  return clean(text) || '-';
}

function metCase({ policy, rule, met }: Metric): string {
  const name = `${rule}: met on ${met} ${met === 1 ? 'subject' : 'subjects'}`;
  return caseOf({ classname: `${policy}.${rule}`, name, outcome: 'met', content: '' });
}

function caseOf({ classname, name, content }: Case): string {
  return xmlElement(
    'testcase',
    { name: token(name), classname: token(classname), time: 0 },
    content,
  );
}

function findingCase(finding: Finding, result: AuditResult): Case {
  const { policy, rule, subject } = finding;
  const outcome = outcomeOf(finding, result);
  const title = titleWords(finding);
  const attributes = outcome === 'skipped' ? {} : { message: title, type: finding.verdict };
  const text = xmlText([title, ...detailsOf(finding, result)].join('\n'));
  return {
    classname: `${policy}.${rule}`,
    name: `${rule}: ${subject.id}`,
    outcome,
    content: xmlElement(outcome, attributes, text),
  };
}

function outcomeOf(
  { verdict, severity }: Finding,
  { least }: AuditResult,
): 'failure' | 'error' | 'skipped' {
  if (verdict === 'waived' || !atLeast(severity, least)) return 'skipped';
  return verdict === 'broken' ? 'failure' : 'error';
}

function detailsOf(finding: Finding, { site }: AuditResult): readonly string[] {
  const { id, severity, verdict, source, advice, declaredAt, waiver } = finding;
  const lines = [
    `${severity}, ${verdict}${waiver === undefined ? '' : ` until ${waiver.until}: ${waiver.because}`}`,
    `seen: ${seenWords(finding, site, true)}`,
    ...(advice === undefined ? [] : [`do: ${advice}`]),
    ...(declaredAt === undefined ? [] : [`declared: ${placeWords(declaredAt)}`]),
    `rule after ${source}; finding ${id}`,
  ];
  return lines.map(clean);
}

function faultCase({ policy, rule, subject, what, place }: RuleFault): Case {
  const message = clean(`rule ${rule} failed on ${subject}: ${what}`);
  return {
    classname: `${policy}.${rule}`,
    name: `${rule}: ${subject}`,
    outcome: 'error',
    content: xmlElement('error', { message, type: 'rule' }, xmlText(placeWords(place))),
  };
}
