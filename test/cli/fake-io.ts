import { fileURLToPath } from 'node:url';
import type { Io, Out } from '../../src/cli/io.ts';
import type { NodeReading } from '../../src/collect/types.ts';
import type { Trouble } from '../../src/facts/trouble.ts';
import { whole } from '../report/whole.ts';

/** A process without a process: what a command read, wrote and said is all in here. */
export interface FakeRun {
  readonly io: Io;
  readonly stdout: () => string;
  readonly stderr: () => string;
  readonly files: Map<string, string>;
  /** Nodes that were read, by name and access. */
  readonly asked: string[];
}

export interface FakeSketch {
  readonly files?: Readonly<Record<string, string>>;
  /** What each node answers; a node that is not here gives no answer. */
  readonly nodes?: Readonly<Record<string, NodeReading>>;
  readonly terminal?: boolean;
  readonly columns?: number;
  readonly env?: Readonly<Record<string, string>>;
  readonly io?: Partial<Io>;
}

const noAnswer: Trouble = {
  kind: 'no-answer',
  seen: 'no answer within 10 s',
  remedy: 'look whether it has power',
};

export function fakeRun(sketch: FakeSketch = {}): FakeRun {
  const files = new Map(Object.entries(sketch.files ?? {}));
  const said = { stdout: '', stderr: '' };
  const asked: string[] = [];
  const out = (name: 'stdout' | 'stderr'): Out => ({
    write: (text) => {
      said[name] += text;
    },
    isTerminal: sketch.terminal ?? false,
    ...(sketch.columns === undefined ? {} : { columns: sketch.columns }),
  });
  const io: Io = {
    stdout: out('stdout'),
    stderr: out('stderr'),
    env: sketch.env ?? {},
    now: () => new Date('2026-11-25T02:00:00.000Z'),
    signal: new AbortController().signal,
    readTextFile: async (path) => {
      const text = files.get(path);
      if (text !== undefined) return { ok: true, text };
      return path.startsWith(policiesFolder) ? readPolicy(path) : missing;
    },
    readSurveyFile: async (path) => {
      const text = files.get(path);
      return text === undefined ? missing : { ok: true, text };
    },
    writeFile: async (path, text) => {
      if (path.startsWith('/nowhere/')) return { ok: false, reason: 'its folder does not exist' };
      files.set(path, whole(text));
      return { ok: true };
    },
    policiesFolder,
    own: { home: '/home/tide', userName: 'tide' },
    findSecret: async () => undefined,
    resolve: async () => undefined,
    read: async (node, access) => {
      asked.push(`${node.name} by ${access.via}`);
      const reading = sketch.nodes?.[node.name];
      return reading === undefined ? { ok: false, trouble: noAnswer } : { ok: true, reading };
    },
    ...sketch.io,
  };
  return { io, stdout: () => said.stdout, stderr: () => said.stderr, files, asked };
}

const policiesFolder = fileURLToPath(new URL('../../policies/', import.meta.url));
const missing = { ok: false, reason: 'no such file' } as const;

async function readPolicy(path: string) {
  const { readFile } = await import('node:fs/promises');
  return { ok: true, text: await readFile(path, 'utf8') } as const;
}

/** A Linux host with one port of `mtuBytes`, reached by it from everywhere. */
export function host(port: string, mtuBytes: number, more: Partial<NodeReading> = {}): NodeReading {
  return {
    facts: { systemKind: 'linux', systemName: 'host' },
    sources: {},
    gaps: {},
    portSources: { mtuBytes: 'ip link mtu', speedMbps: 'sysfs speed' },
    portGaps: {},
    ports: [
      {
        name: port,
        facts: {
          kind: 'physical',
          mtuBytes,
          speedMbps: 10_000,
          duplex: 'full',
          adminUp: true,
          operUp: true,
          addresses: ['198.18.20.7/24'],
        },
      },
    ],
    routes: [],
    sessions: [],
    mounts: [],
    ...more,
  };
}

/** Two hosts of the office on one cord; `mtu` is declared. */
export const twoHosts = `intent: 1
site: Saltmarsh survey office
nodes:
  plot-1: { at: plot-1.office.example }
  vault: { at: vault.office.example }
segments: { storage: { mtu: 9000 } }
links:
  - { ends: [plot-1:en7, vault:eth4], untagged: storage, speed: 10G, run: [cord cat6a 2 m] }
paths: { plotting: { from: plot-1, to: vault, over: storage } }
policies: [own.yaml]
`;

/** A policy of one rule, so that a test says what is judged. */
export const ownPolicy = `policy: own
about: The declared packet passes.
rules:
  - rule: path-clearance
    judges: path
    when: has(path.declaredMtuBytes)
    holds: path.carriesDeclaredMtu
    severity: error
    says: "carries at most {path.mtuAtMostBytes} of {path.declaredMtuBytes} bytes"
    advice: "raise {path.narrowestPort}"
    source: RFC 1191
`;

export const office = { 'hopgauge.yaml': twoHosts, 'own.yaml': ownPolicy };
