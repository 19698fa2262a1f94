import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { page } from '../../src/cli/commands/page.ts';
import type { Io } from '../../src/cli/io.ts';
import { keepAudit } from '../../src/cli/kept-audit.ts';
import { requirePolicies } from '../../src/cli/load-inputs.ts';
import { processIo } from '../../src/cli/process-io.ts';
import { closeNight } from '../../src/drift/close-night.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Survey } from '../../src/facts/survey.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { writeNight } from '../../src/history/write-night.ts';
import type { Intent } from '../../src/intent/types.ts';
import { judge } from '../../src/judge/judge.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import {
  type LinkSketch,
  makeIntent,
  makeSurvey,
  type NodeReadingSketch,
  type NodeSketch,
} from '../site/builders.ts';

const switchCount = 200;
const nodeCount = 10_000;
const nights = 3;
/** Nodes of which a port changes each night; one in a hundred is no quiet network. */
const movesPerNight = 100;

/** The word that has a process keep the nights alone. */
const keep = 'keep';

/** What writing the pages of a site of ten thousand nodes took. */
export interface PagesBench {
  readonly name: string;
  readonly nodes: number;
  readonly ports: number;
  readonly files: number;
  readonly bytes: number;
  /** Into an empty folder; again with nothing changed. */
  readonly seconds: number;
  readonly againSeconds: number;
  readonly goalSeconds: number;
  readonly peakBytes: number;
  readonly goalBytes: number;
}

/** Keeps some nights of a simulated site in a store on disk, and writes the pages of the last. */
export async function benchPages(): Promise<PagesBench> {
  const folder = mkdtempSync(join(tmpdir(), 'hopgauge-bench-'));
  try {
    const store = join(folder, 'history.sqlite');
    const out = join(folder, 'pages');
    // In a process of their own: the nights are not what is measured.
    const ports = Number(
      execFileSync(
        process.execPath,
        [...process.execArgv, fileURLToPath(import.meta.url), keep, store],
        {
          encoding: 'utf8',
        },
      ),
    );
    const first = await timed(() => page(optionsOf(store, out), quietIo()));
    // As of one command; a second one in the same process is there for its time alone.
    const peakBytes = process.resourceUsage().maxRSS * 1024;
    const again = await timed(() => page(optionsOf(store, out), quietIo()));
    const files = readdirSync(out);
    return {
      name: 'pages of a large site',
      nodes: nodeCount,
      ports,
      files: files.length,
      bytes: files.reduce((sum, file) => sum + statSync(join(out, file)).size, 0),
      seconds: first,
      againSeconds: again,
      goalSeconds: 60,
      peakBytes,
      goalBytes: 1.5 * 1024 ** 3,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function optionsOf(store: string, out: string) {
  return { store, out, intent: [], site: [], quiet: true };
}

/** The process, in a folder without an intent. */
function quietIo(): Io {
  const io = processIo(new AbortController().signal, () => {});
  const readTextFile: Io['readTextFile'] = async (path) =>
    path === 'hopgauge.yaml' ? { ok: false, reason: 'no such file' } : io.readTextFile(path);
  return { ...io, readTextFile };
}

/** Hosts on two hundred switches, these on two more; every host has a path to one of eight stores. */
function largeIntent(): { readonly intent: Intent; readonly ports: PortTable } {
  const hosts = nodeCount - switchCount - 2;
  const nodes: Record<string, NodeSketch> = {};
  const links: Record<string, LinkSketch> = {};
  const ports: PortTable = new Map();
  const add = (node: string, port: string, facts: PortReadFacts = {}) => {
    nodes[node] ??= node.endsWith('-sw') ? { mtuCounts: { port: 'payload' } } : {};
    const own = ports.get(node) ?? new Map<string, PortReadFacts>();
    own.set(port, {
      kind: 'physical',
      adminUp: true,
      operUp: true,
      mtuBytes: 9000,
      speedMbps: 10_000,
      duplex: 'full',
      ...facts,
    });
    ports.set(node, own);
  };
  const join2 = (a: readonly [string, string], b: readonly [string, string]) => {
    links[`${a.join(':')} - ${b.join(':')}`] = { untagged: 'storage', speedMbps: 10_000 };
  };
  for (let host = 0; host < hosts; host += 1) {
    const [name, edge] = [`host-${host}`, `edge-${host % switchCount}-sw`];
    add(name, 'eth0', {
      addresses: [`198.18.${host >> 7}.${(host & 127) + 1}/15`],
      ...(host % 50 === 9 ? { mtuBytes: 1500 } : {}),
    });
    const port = `p${Math.floor(host / switchCount)}`;
    add(edge, port);
    join2([name, 'eth0'], [edge, port]);
  }
  for (let edge = 0; edge < switchCount; edge += 1) {
    add(`edge-${edge}-sw`, 'up');
    add(`core-${edge % 2}-sw`, `p${edge}`);
    join2([`edge-${edge}-sw`, 'up'], [`core-${edge % 2}-sw`, `p${edge}`]);
  }
  add('core-0-sw', 'x1');
  add('core-1-sw', 'x1');
  join2(['core-0-sw', 'x1'], ['core-1-sw', 'x1']);
  const paths = Object.fromEntries(
    Array.from({ length: 8 }, (_, store) => {
      const from = Array.from({ length: hosts }, (_, host) => host)
        .filter((host) => host % 8 === store && host !== store)
        .map((host) => `host-${host}`);
      return [`store-${store}`, { from, to: [`host-${store}`], over: ['storage'] }];
    }),
  );
  const intent = makeIntent({ nodes, links, paths, segments: { storage: { mtuBytes: 9000 } } });
  return { intent, ports };
}

type PortTable = Map<string, Map<string, PortReadFacts>>;

async function keepNights(store: string): Promise<number> {
  const { intent, ports } = largeIntent();
  const policies = await requirePolicies(
    { policies: ['essential', 'jumbo'].map((name) => ({ name })) as never, waivers: [] },
    quietIo(),
  );
  for (let night = 0; night < nights; night += 1) {
    const startedAt = new Date(Date.UTC(2026, 10, 20 + night, 2)).toISOString();
    if (night > 0) alter(ports, night);
    const survey = { ...surveyOf(ports), site: intent.site, startedAt, endedAt: startedAt };
    const database = await openStore(store);
    const past = await readPast(database, intent.site);
    const site = buildSite(intent, survey, { strict: false, earlier: past.known });
    const judgement = judge(subjectsOf(site), policies, {
      waivers: [],
      now: startedAt,
      strict: false,
      watch: past.open,
    });
    const closed = closeNight({ intent, survey, judgement, past, startedAt, endedAt: startedAt });
    const result: AuditResult = {
      site,
      judgement,
      survey,
      startedAt,
      endedAt: startedAt,
      toolVersion: '0.0.0',
      strict: false,
      least: 'warning',
    };
    await writeNight(database, closed.night, keepAudit(result, survey, closed));
    await database.close();
  }
  return [...ports.values()].reduce((sum, own) => sum + own.size, 0);
}

function alter(ports: PortTable, night: number): void {
  const names = [...ports.keys()];
  for (let move = 0; move < movesPerNight; move += 1) {
    const own = ports.get(names[(move * 97 + night * 31) % names.length] ?? '');
    const [port, facts] = [...(own ?? [])][0] ?? [];
    if (port === undefined || facts === undefined) continue;
    own?.set(port, {
      ...facts,
      speedMbps: facts.speedMbps === 1000 ? 10_000 : 1000,
      rxCrcErrors: (facts.rxCrcErrors ?? 0) + night,
    });
  }
}

function surveyOf(ports: PortTable): Survey {
  const sketches = [...ports].map(([name, own]): [string, NodeReadingSketch] => [
    name,
    { facts: name.endsWith('-sw') ? {} : { systemKind: 'linux' }, ports: Object.fromEntries(own) },
  ]);
  return makeSurvey(Object.fromEntries(sketches));
}

async function timed(work: () => Promise<unknown>): Promise<number> {
  const startedMs = performance.now();
  await work();
  return Math.round(performance.now() - startedMs) / 1000;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const [, , word, store = ''] = process.argv;
  const told = word === keep ? await keepNights(store) : await benchPages();
  process.stdout.write(`${JSON.stringify(told, null, 2)}\n`);
}
