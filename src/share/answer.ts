import { z } from 'zod';
import type { NodeSurvey } from '../facts/survey.ts';
import { surveySchema } from '../facts/survey-schema.ts';
import { pack, unpack } from '../history/pack.ts';

/** What a collector gives for one node: the reading as packed JSON, and who read it. */
export interface Answer {
  readonly by: string;
  readonly packed: string;
}

const answerSchema = z.object({ by: z.string().max(256), packed: z.string() });
const nodesSchema = surveySchema.shape.nodes;

/** A reading as it is put into the queue: packed, since it is many times smaller so. */
export function answerOf(node: NodeSurvey, by: string): Answer {
  return { by, packed: Buffer.from(pack(node)).toString('base64') };
}

/** The reading of `node` in an answer; undefined: it holds none, or one of another node. */
export function readingIn(output: unknown, node: string): NodeSurvey | undefined {
  const answer = answerSchema.safeParse(output);
  if (!answer.success) return undefined;
  try {
    const nodes = nodesSchema.safeParse([unpack(Buffer.from(answer.data.packed, 'base64'))]);
    const [reading] = nodes.success ? nodes.data : [];
    return reading?.node === node ? (reading as NodeSurvey) : undefined;
  } catch {
    return undefined;
  }
}
