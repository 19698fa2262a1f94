import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { closeNight } from '../../src/drift/close-night.ts';
import { stableJson } from '../../src/facts/json.ts';
import type { NodeSurvey, Survey } from '../../src/facts/survey.ts';
import { openServer } from '../../src/history/open-server.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { serverPlace } from '../../src/history/server-place.ts';
import type { StorePlace } from '../../src/history/store-place.ts';
import { writeNight } from '../../src/history/write-night.ts';
import { answerOf, readingIn } from '../../src/share/answer.ts';
import { queueName } from '../../src/share/queue-names.ts';
import { workQueue } from '../../src/share/work-queue.ts';
import { startPostgres, stopPostgres } from '../lab/harness/postgres.ts';
import { makeYear } from './simulated-year.ts';

// The history on a server beside the history in a file, over the same nights in the same run, and
// what the queue costs for each node. Root on Debian with its PostgreSQL, as the lab:
// `npx tsx test/bench/server.ts`.

const nights = 6;

interface NightTimes {
  readonly firstMs: number;
  readonly laterMs: number;
  readonly readMs: number;
}

async function timed<T>(work: () => Promise<T>): Promise<readonly [T, number]> {
  const start = performance.now();
  const result = await work();
  return [result, Math.round(performance.now() - start)];
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
}

/** Nights of one simulated site in one store. */
async function nightsIn(store: StorePlace): Promise<NightTimes> {
  const year = makeYear();
  const [writes, reads]: [number[], number[]] = [[], []];
  for (let night = 0; night < nights; night += 1) {
    const survey = year.nextNight();
    const database = await openStore(store);
    const [past, readMs] = await timed(() => readPast(database, survey.site));
    const { startedAt, endedAt } = survey;
    const closed = closeNight({
      intent: year.intent,
      survey,
      judgement: nothingFound,
      past,
      startedAt,
      endedAt,
    });
    const [, writeMs] = await timed(() => writeNight(database, closed.night));
    await database.close();
    writes.push(writeMs);
    reads.push(readMs);
  }
  const [firstMs = 0, ...later] = writes;
  return { firstMs, laterMs: median(later), readMs: median(reads.slice(1)) };
}

const nothingFound = {
  findings: [],
  faults: [],
  tally: { met: 40_000, broken: 0, undetermined: 0, waived: 0, notApplicable: 0 },
  waiversExpired: [],
  waiversMet: [],
  watched: new Map(),
};

/** All nodes of a survey through the queue, as one audit and one collector do it. */
async function throughQueue(store: Exclude<StorePlace, string>, survey: Survey) {
  const database = await openServer(store.place, store.askPassword);
  const queue = await workQueue(database);
  const name = queueName({ site: survey.site, reach: '' });
  await queue.prepare([name]);
  const nodes = new Map(survey.nodes.map((node) => [node.node, node]));
  const jobs = survey.nodes.map(({ node }) => ({ queue: name, id: randomUUID(), data: { node } }));
  let bytes = 0;
  const read = new Map<string, NodeSurvey>();
  const [, ms] = await timed(async () => {
    await queue.put(jobs);
    for (;;) {
      const taken = await queue.take(name, 48);
      if (taken.length === 0) break;
      await Promise.all(
        taken.map(async (job) => {
          const node = nodes.get((job.data as { node: string }).node);
          if (node === undefined) throw new Error('a node of nobody');
          const answer = answerOf(node, 'bench');
          bytes += answer.packed.length;
          await queue.complete(job, answer);
        }),
      );
      const done = await queue.done([name]);
      for (const { id, output } of done) {
        const job = jobs.find((each) => each.id === id);
        const reading = readingIn(output, job?.data.node ?? '');
        if (reading !== undefined) read.set(reading.node, reading);
      }
      await queue.remove(
        name,
        done.map(({ id }) => id),
      );
    }
  });
  await database.close();
  if (read.size !== survey.nodes.length) throw new Error(`only ${read.size} nodes came through`);
  return { nodes: read.size, ms, answerBytes: Math.round(bytes / read.size) };
}

const folder = mkdtempSync(join(tmpdir(), 'hopgauge-bench-'));
const server = await startPostgres();
try {
  await server.sql('create database bench');
  const address = `postgres://postgres@127.0.0.1:${server.port}/bench`;
  const store = {
    place: serverPlace(address, {}, 'nobody'),
    askPassword: async () => server.password,
  };
  const file = await nightsIn(join(folder, 'history.sqlite'));
  const shared = await nightsIn(store);
  const size = await server.sql('select pg_database_size(current_database())', {
    database: 'bench',
  });
  const year = makeYear();
  const queue = await throughQueue(store, year.nextNight());
  const figures = { ports: year.portCount, file, server: shared, serverBytes: Number(size), queue };
  process.stdout.write(stableJson(figures));
} finally {
  await stopPostgres(server);
  rmSync(folder, { recursive: true, force: true });
}
