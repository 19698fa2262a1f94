import type { KeptAudit, TimelineScope } from '../../drift/timeline.ts';
import type { Database } from '../../history/database.ts';
import { pruneStore } from '../../history/keep-store.ts';
import { openStore } from '../../history/open-store.ts';
import { readPast } from '../../history/read-past.ts';
import { readAudits, readSites, readTimeline } from '../../history/read-timeline.ts';
import { storeWords } from '../../history/store-place.ts';
import { nearestWord } from '../../intent/nearest.ts';
import type { DeclaredLink, Intent } from '../../intent/types.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { historyJson, historyLines } from '../../report/history-json.ts';
import { type HistoryView, historyText } from '../../report/history-text.ts';
import { clean } from '../../report/layout.ts';
import { redactHistory } from '../../report/redact.ts';
import { timeWords } from '../../report/summary-line.ts';
import { ageMs, sinceTime } from '../ages.ts';
import { inStore, storePlace } from '../history-of.ts';
import type { Io } from '../io.ts';
import { hasDefaultIntent, requireIntent } from '../load-inputs.ts';
import type { HistoryOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { textLook } from '../write-result.ts';

/** Tells what moved, and when; or looks after the store. Gives the exit status. */
export async function history(
  target: string | undefined,
  options: HistoryOptions,
  io: Io,
): Promise<number> {
  const intent = await intentOf(options, io);
  const place = await storePlace(options.store, io);
  return inStore(place, async () => {
    const database = await openStore(place, { existing: true });
    try {
      if (options.check === true) return await check(database, storeWords(place), io);
      if (options.prune !== undefined) return await prune(database, options.prune, io);
      const site = await siteOf(database, options.site ?? intent?.site);
      if (options.completeWithin !== undefined)
        return completeWithin(await readAudits(database, site), options.completeWithin, io);
      const view = await viewOf(database, { site, target, intent, options }, io);
      const shown = options.redact === true ? await redacted(view, { database, intent }) : view;
      io.stdout.write(written(shown, options, io));
      return exitStatuses.met;
    } finally {
      await database.close();
    }
  });
}

async function intentOf(options: HistoryOptions, io: Io): Promise<Intent | undefined> {
  if (options.intent === undefined && !(await hasDefaultIntent(io))) return undefined;
  return requireIntent(options.intent, io);
}

async function check(database: Database, file: string, io: Io): Promise<number> {
  const faults = await database.faults();
  if (faults.length === 0) {
    io.stdout.write(`${clean(file)}: sound\n`);
    return exitStatuses.met;
  }
  io.stdout.write(`${[`${file}: damaged`, ...faults].map((line) => clean(line)).join('\n')}\n`);
  return exitStatuses.broken;
}

async function prune(database: Database, age: string, io: Io): Promise<number> {
  const before = new Date(io.now().getTime() - ageMs('--prune', age)).toISOString();
  const { audits, changes } = await pruneStore(database, before);
  await database.compact();
  io.stdout.write(
    `took out what is before ${timeWords(before)}: audits ${audits}, changes ${changes}\n`,
  );
  return exitStatuses.met;
}

/** The site that is meant: the named one, or the only one there is. */
async function siteOf(database: Database, named: string | undefined): Promise<string> {
  const sites = await readSites(database);
  const [only, ...more] = sites;
  const site = named ?? (more.length === 0 ? only : undefined);
  if (site !== undefined && sites.includes(site)) return site;
  const there = sites.length === 0 ? 'it has none' : `it has ${sites.join(', ')}`;
  throw new RunFault(exitStatuses.usage, [
    clean(
      site === undefined
        ? `which site? ${there}; give --site NAME, or an intent`
        : `the history knows no site '${site}'; ${there}`,
    ),
  ]);
}

/** For a second timer that watches the first. */
function completeWithin(audits: readonly KeptAudit[], age: string, io: Io): number {
  const ms = ageMs('--complete-within', age);
  const last = audits.find(({ complete }) => complete);
  const passedMs = last === undefined ? undefined : io.now().getTime() - Date.parse(last.endedAt);
  const words =
    last === undefined
      ? 'no audit was ever complete'
      : `last complete audit ${timeWords(last.endedAt)}`;
  if (passedMs !== undefined && passedMs <= ms) {
    io.stdout.write(`${words}\n`);
    return exitStatuses.met;
  }
  const newest = audits[0];
  const more =
    newest === undefined || newest === last
      ? ''
      : `; the last one, ${timeWords(newest.startedAt)}, read ${newest.nodesRead} of ${newest.nodesAsked} nodes`;
  io.stdout.write(`${words}, wanted within ${age}${more}; look at the timer and at its log\n`);
  return exitStatuses.broken;
}

interface Wanted {
  readonly site: string;
  readonly target: string | undefined;
  readonly intent: Intent | undefined;
  readonly options: HistoryOptions;
}

async function viewOf(
  database: Database,
  { site, target, intent, options }: Wanted,
  io: Io,
): Promise<HistoryView> {
  const since =
    options.since === undefined ? {} : { since: sinceTime(options.since, io.now().getTime()) };
  const scope: TimelineScope = {
    site,
    ...since,
    ...(target === undefined ? {} : aim(target, intent)),
  };
  const timeline = await readTimeline(database, scope);
  if (target === undefined) return { site, timeline, audits: await readAudits(database, site) };
  const silent = timeline.firstSeen === undefined && timeline.events.length === 0;
  const declared = declaredNames(intent);
  if (silent && !declared.includes(target)) {
    const near = nearestWord(target, declared);
    const remedy =
      near === undefined
        ? 'name a node, node:port, link, path, segment or the id of a finding'
        : `write '${near}'`;
    throw new RunFault(exitStatuses.usage, [
      clean(`the history of ${site} has nothing of '${target}'; ${remedy}`),
    ]);
  }
  return { site, target, timeline, audits: [] };
}

/** What the intent has, so that nothing to tell of it is an answer. */
function declaredNames(intent: Intent | undefined): readonly string[] {
  if (intent === undefined) return [];
  const { nodes, links, paths, segments } = intent;
  return [
    ...[...nodes, ...paths, ...segments].map(({ name }) => name),
    ...links.flatMap(({ id, ends }) => [id, ...ends.map(endId)]),
  ];
}

function endId({ node, port }: DeclaredLink['ends'][number]): string {
  return `${node}:${port}`;
}

/** What a target means in the store: ports by the node's own names, findings by the intent's. */
function aim(target: string, intent: Intent | undefined): Omit<TimelineScope, 'site'> {
  return { ways: waysOf(target, intent), ...subjectsOf(target, intent) };
}

/** The directions of a path, by its name or that of one pair of its ends. */
function waysOf(target: string, intent: Intent | undefined): NonNullable<TimelineScope['ways']> {
  return (intent?.paths ?? []).flatMap((path) =>
    path.from.flatMap((from) =>
      path.to.flatMap((to) =>
        [path.name, `${path.name} (${from} to ${to})`].includes(target)
          ? [
              { from, to },
              { from: to, to: from },
            ]
          : [],
      ),
    ),
  );
}

function subjectsOf(target: string, intent: Intent | undefined): Omit<TimelineScope, 'site'> {
  const links = (intent?.links ?? []).filter(
    ({ id, ends }) => id === target || ends.some((end) => endId(end) === target),
  );
  const named = links.map(({ id }) => id);
  // A link has findings, and no facts of its own to keep.
  if (named.includes(target)) return { node: '', subjects: [target] };
  const colon = target.indexOf(':');
  if (colon === -1) {
    const isNode = intent === undefined || intent.nodes.some(({ name }) => name === target);
    return isNode ? { node: target, subjects: [target] } : { node: '', subjects: [target] };
  }
  const [node, port] = [target.slice(0, colon), target.slice(colon + 1)];
  const alias = intent?.nodes
    .find(({ name }) => name === node)
    ?.ports.find((each) => each.alias === port);
  const ports = [...new Set([port, ...(alias?.name === undefined ? [] : [alias.name])])];
  return { node, ports, subjects: [target, ...named] };
}

/** With pseudonyms also for what is known from the last reading of each node. */
async function redacted(
  view: HistoryView,
  { database, intent }: { readonly database: Database; readonly intent: Intent | undefined },
): Promise<HistoryView> {
  const { known } = await readPast(database, view.site);
  return redactHistory(view, { intent, surveys: [...known.values()].map(({ survey }) => survey) });
}

function written(view: HistoryView, { format }: HistoryOptions, io: Io): string {
  if (format === 'json') return historyJson(view);
  if (format === 'jsonl') return historyLines(view);
  return historyText(view, textLook(undefined, io).width);
}
