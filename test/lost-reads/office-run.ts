import { readFileSync } from 'node:fs';
import { collectSurvey } from '../../src/collect/collect-survey.ts';
import { planSurvey } from '../../src/collect/plan.ts';
import type { ReadOutcome, ReadRequest } from '../../src/collect/types.ts';
import { parseJson } from '../../src/facts/json.ts';
import type { Survey } from '../../src/facts/survey.ts';
import { surveySchema } from '../../src/facts/survey-schema.ts';
import type { Intent } from '../../src/intent/types.ts';
import { judge } from '../../src/judge/judge.ts';
import { findingId } from '../../src/judge/make-finding.ts';
import { topicsOf } from '../../src/judge/topics-of.ts';
import type { WatchedPair } from '../../src/judge/types.ts';
import { jsonReport } from '../../src/report/json-report.ts';
import { reportSchema } from '../../src/report/report-schema.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import { loadFrom } from '../intent/load.ts';
import { loadShipped } from '../judge/shipped.ts';
import { whole } from '../report/whole.ts';

const intentText = readFileSync('mocks/saltmarsh/intent.yaml', 'utf8');
const policies = await loadShipped('essential', 'jumbo', 'cabling', 'signal');

/** What is worth its cost under the policies of the office. */
export const officeTopics = topicsOf(policies);
/** The intent of the demo. */
export const officeIntent: Intent = await loadOffice();

async function loadOffice(): Promise<Intent> {
  const loaded = await loadFrom({ 'site.yaml': intentText });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
  return loaded.value;
}

/** Reads a node by whatever stands in for it. */
export type ReadNode = (request: ReadRequest) => Promise<ReadOutcome>;

/** One audit of the office: what was read, and what each rule came to on each subject. */
export interface OfficeRun {
  readonly survey: Survey;
  /** By rule, kind and subject. */
  readonly verdicts: ReadonlyMap<string, string>;
  readonly exitStatus: number;
}

/** Audits the office; what is given reads its nodes. The survey and the report are as their schemas say. */
export async function auditOffice(nodes: ReadonlyMap<string, ReadNode>): Promise<OfficeRun> {
  const at = new Date('2026-11-25T02:00:00.000Z');
  const survey = await collectSurvey(planSurvey(officeIntent), {
    read: async (node, _, request) => {
      const read = nodes.get(node.name);
      if (read === undefined) throw new Error(`nobody stands in for ${node.name}`);
      return read(request);
    },
    resolve: async (name) => addresses[name.replace(/\.office\.example$/, '')],
    topics: officeTopics,
    now: () => at,
    signal: new AbortController().signal,
  });
  surveySchema.parse(parseJson(JSON.stringify(survey)));
  const site = buildSite(officeIntent, survey, { strict: false });
  const subjects = subjectsOf(site);
  const pairs: WatchedPair[] = policies.flatMap(({ rules }) =>
    rules.flatMap(({ rule, judges }) =>
      subjects
        .filter(({ kind }) => kind === judges)
        .map((subject) => ({
          id: findingId(rule, subject),
          rule,
          subject: { kind: subject.kind, id: subject.id },
        })),
    ),
  );
  const judgement = judge(subjects, policies, {
    waivers: officeIntent.waivers,
    now: at.toISOString(),
    watch: pairs,
  });
  const result: AuditResult = {
    site,
    judgement,
    survey,
    startedAt: at.toISOString(),
    endedAt: at.toISOString(),
    toolVersion: '0.0.0',
    strict: false,
    least: 'warning',
  };
  const { exitStatus } = reportSchema.parse(parseJson(whole(jsonReport(result))));
  const found = new Map(judgement.findings.map(({ id, verdict }) => [id, verdict as string]));
  const verdicts = new Map(
    pairs.map(({ id, rule, subject }) => [
      `${rule} ${subject.kind} ${subject.id}`,
      found.get(id) ?? judgement.watched.get(id) ?? 'fault of the rule',
    ]),
  );
  return { survey, verdicts, exitStatus };
}

const addresses: Readonly<Record<string, string>> = {
  'plot-1': '198.18.20.11',
  'plot-2': '198.18.20.12',
  vault: '198.18.20.2',
  gate: '198.18.20.1',
};
