import type { KnownNode } from '../drift/known-node.ts';
import { byName } from '../facts/order.ts';
import type { Survey } from '../facts/survey.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import { timeWords } from '../report/summary-line.ts';
import { inStore, storePlace } from './history-of.ts';
import type { Io } from './io.ts';
import { RunFault } from './run-fault.ts';

/**
 * What the history read last of each node of a site, as one survey; which nodes were read earlier
 * than the others is said on stderr. Ends the run where nothing of the site is kept.
 */
export async function pastSurvey(site: string, store: string | undefined, io: Io): Promise<Survey> {
  const place = await storePlace(store, io);
  const [{ openStore }, { readPast }, { storeWords }] = await Promise.all([
    import('../history/open-store.ts'),
    import('../history/read-past.ts'),
    import('../history/store-place.ts'),
  ]);
  const known = await inStore(place, async () => {
    const database = await openStore(place, { existing: true });
    try {
      return [...(await readPast(database, site)).known.values()];
    } finally {
      await database.close();
    }
  });
  const times = known.map(({ seenAt }) => seenAt).sort();
  const [startedAt] = times;
  const endedAt = times.at(-1);
  if (startedAt === undefined || endedAt === undefined)
    throw new RunFault(exitStatuses.input, [
      clean(
        `${storeWords(place)}: nothing of ${site} was ever read; run hopgauge audit --changes once, or leave --last-read out`,
      ),
    ]);
  const earlier = known.filter(({ seenAt }) => seenAt !== endedAt).sort(byNode);
  if (earlier.length > 0) {
    const each = earlier.map(({ node, seenAt }) => `${node} ${timeWords(seenAt)}`);
    io.stderr.write(`${clean(`read earlier than the rest: ${each.join('; ')}`)}\n`);
  }
  const nodes = known.toSorted(byNode).map(({ survey }) => survey);
  return { survey: 1, site, startedAt, endedAt, nodes };
}

function byNode(a: KnownNode, b: KnownNode): number {
  return byName(a.node, b.node);
}
