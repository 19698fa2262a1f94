import { unreadNode } from '../collect/collect-survey.ts';
import type { Trouble } from '../facts/trouble.ts';
import { readingIn } from './answer.ts';
import { type OpenJobs, settle } from './open-job.ts';
import type { WorkQueue } from './work-queue.ts';

/** Where answers are taken from. */
export interface AnswerDeps {
  readonly queue: WorkQueue;
  readonly queues: readonly string[];
  readonly now: () => Date;
}

/** Settles what was answered and takes it out of the queue; gives the queues that it was in. */
export async function takeAnswers(
  { queue, queues, now }: AnswerDeps,
  open: OpenJobs,
): Promise<readonly string[]> {
  const done = await queue.done(queues);
  const answered: string[] = [];
  for (const { id, output, ok } of done) {
    const asked = open.get(id);
    if (asked === undefined) continue;
    answered.push(asked.job.queue);
    const reading = ok ? readingIn(output, asked.node.name) : undefined;
    const trouble = ok ? strangeAnswer : triedOften;
    settle(open, id, reading ?? unreadNode(asked.node, trouble, now()));
  }
  for (const name of queues)
    await queue.remove(
      name,
      done.filter((job) => job.queue === name).map(({ id }) => id),
    );
  return answered;
}

const strangeAnswer: Trouble = {
  kind: 'fault',
  seen: 'the collector gave an answer that cannot be read',
  remedy: 'run the same version of hopgauge everywhere',
};

const triedOften: Trouble = {
  kind: 'fault',
  seen: 'every collector that took it ended while it read this node',
  remedy: 'look at the logs of the collectors',
};
