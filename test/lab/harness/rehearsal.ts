import { z } from 'zod';
import { parseJson } from '../../../src/facts/json.ts';
import { hopgauge, writeRunFile } from './cli.ts';
import type { Topology } from './topology.ts';

const cost = z.object({
  pathsCut: z.number(),
  pathsReduced: z.number(),
  clearanceLackBytes: z.number(),
  bounces: z.number(),
});
const path = z.object({
  id: z.string(),
  joined: z.boolean(),
  atLeastBytes: z.number().exactOptional(),
  atMostBytes: z.number().exactOptional(),
});
const step = z.object({
  id: z.string(),
  node: z.string(),
  portName: z.string(),
  setting: z.literal('mtu'),
  from: z.number(),
  to: z.number(),
});
const advice = z.object({
  temporary: z.array(z.string()),
  undo: z.array(z.string()),
  cautions: z.array(z.string()),
  timedReturn: z.object({ arm: z.array(z.string()), cancel: z.string() }).exactOptional(),
});
const remark = z.object({ kind: z.string(), on: z.string(), what: z.string() });
const finding = z.object({ rule: z.string(), subject: z.object({ id: z.string() }) });

/** What of a rehearsal the lab looks at; a change of MTUs alone, with an order. */
const rehearsalSchema = z.object({
  start: cost,
  order: z.object({ steps: z.array(step), costs: z.array(cost), exact: z.boolean() }),
  paths: z.object({ start: z.array(path), after: z.array(z.array(path)) }),
  advice: z.array(advice),
  remarks: z.array(remark),
  broken: z.array(finding),
  unknown: z.array(finding),
  standing: z.array(finding),
});

export type Rehearsed = z.output<typeof rehearsalSchema>;
export type RehearsedStep = z.output<typeof step>;
export type RehearsedPath = z.output<typeof path>;
export type RehearsedAdvice = z.output<typeof advice>;

/** A rehearsal by the real command line. */
export interface RehearsalRun {
  readonly status: number | null;
  /** The files that it was given. */
  readonly change: string;
  readonly intent: string;
  readonly rehearsal: Rehearsed;
  /** The procedure in Markdown, written from what was read a second time. */
  readonly procedure: string;
}

let runs = 0;

/** Rehearses a change twice, for its figures and for its procedure. Rejects where one is not written. */
export async function rehearseIn(
  topology: Topology,
  intent: string,
  change: string,
): Promise<RehearsalRun> {
  runs += 1;
  const declared = writeRunFile(topology, `before-${runs}.yaml`, intent);
  const file = writeRunFile(topology, `change-${runs}.yaml`, change);
  const words = ['rehearse', file, '--intent', declared, '--quiet', '--format'];
  const ran = await hopgauge(topology, [...words, 'json']);
  const markdown = await hopgauge(topology, [...words, 'markdown']);
  try {
    const rehearsal = rehearsalSchema.parse(parseJson(ran.stdout));
    if (markdown.code !== ran.code) throw new Error(`the procedure ends with ${markdown.code}`);
    return {
      status: ran.code,
      change: file,
      intent: declared,
      rehearsal,
      procedure: markdown.stdout,
    };
  } catch (error) {
    const said = `${ran.stderr}${markdown.stderr}\n${ran.stdout.slice(0, 2000)}`;
    throw new Error(`lab: no rehearsal, status ${ran.code}: ${said}`, { cause: error });
  }
}

/** What of a confirmation the lab looks at. */
const confirmationSchema = z.object({
  steps: z.array(z.object({ number: z.number(), verdict: z.string(), expected: z.boolean() })),
  paths: z.array(z.object({ id: z.string(), verdict: z.string() })),
  ways: z.array(z.object({ id: z.string(), verdict: z.string() })),
  followers: z.array(z.object({ on: z.string(), fact: z.string() })),
  errors: z.array(z.object({ node: z.string(), port: z.string(), fact: z.string() })),
  findings: z.object({ notMended: z.array(finding), broken: z.array(finding) }),
});

export interface ConfirmationRun extends z.output<typeof confirmationSchema> {
  readonly status: number | null;
}

/** Confirms a rehearsed change by the real command line, up to one step or whole. */
export async function confirmIn(
  topology: Topology,
  { change, intent }: Pick<RehearsalRun, 'change' | 'intent'>,
  step?: number,
): Promise<ConfirmationRun> {
  const upTo = step === undefined ? [] : ['--step', String(step)];
  const words = ['confirm', change, '--intent', intent, '--quiet', '--format', 'json', ...upTo];
  const ran = await hopgauge(topology, words);
  try {
    return { status: ran.code, ...confirmationSchema.parse(parseJson(ran.stdout)) };
  } catch (error) {
    throw new Error(`lab: no confirmation, status ${ran.code}: ${ran.stderr}`, { cause: error });
  }
}
