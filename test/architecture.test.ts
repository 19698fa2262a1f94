import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const src = resolve(import.meta.dirname, '../src');

/**
 * What each folder may import of the others, each edge with its reason. Read -> facts -> site ->
 * judge -> findings -> reports, the command line on top; no edge back.
 */
const allowed: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  ethernet: { facts: 'an absent speed is a gap' },
  facts: {},
  files: {},
  intent: { ethernet: 'the words of a bus', facts: 'places, cleaning and order of names' },
  site: {
    ethernet: 'clearance and ceilings',
    facts: 'surveys and subjects',
    intent: 'what is declared',
  },
  judge: {
    ethernet: 'speeds in words',
    facts: 'the dictionary and subjects',
    intent: 'waivers, references, input faults',
  },
  diagnose: {
    ethernet: 'what limits a link',
    facts: 'surveys and subjects',
    intent: 'declared runs',
    site: 'links and paths',
  },
  draft: {
    ethernet: 'the best mode of both ends',
    facts: 'surveys, cleaning and order',
    intent: 'what an intent accepts and has',
    site: 'what is declared already, and modes of ports',
  },
  drift: {
    facts: 'surveys, values and order',
    intent: 'waivers and nodes that may be away',
    judge: 'findings and their verdicts',
  },
  history: {
    drift: 'the nights that it keeps',
    facts: 'JSON that is read back',
    files: 'the folder of the store',
    schedule: 'words for a shell in advice',
  },
  change: {
    drift: 'what else moved since a change was rehearsed',
    ethernet: 'what an MTU counts, and what runs and buses carry',
    facts: 'surveys that are changed on a copy',
    intent: 'what is declared, and faults in a change file',
    judge: 'the verdicts before and after',
    site: 'paths, stacks and clearances in every state',
  },
  collect: {
    ethernet: 'what an agent means by a speed',
    facts: 'what it fills',
    files: 'the folder of recorded keys',
    intent: 'the types of access and paths to plan by',
  },
  share: {
    collect: 'plans of nodes and readings of them',
    facts: 'surveys that are checked, and troubles',
    history: 'the session with the server',
    intent: 'what an address and an access look like',
  },
  schedule: {},
  usage: {},
  deliver: { facts: 'words of others are cleaned' },
  probe: {
    collect: 'the transports',
    ethernet: 'sizes to send',
    facts: 'troubles and cleaning',
  },
  report: {
    change: 'a rehearsed change and what to type for it',
    diagnose: 'explanations in words',
    drift: 'what moved since the night before',
    ethernet: 'units in words',
    facts: 'values with their units',
    intent: 'declared places and runs',
    judge: 'findings',
    probe: 'outcomes of active tests',
    site: 'paths and hops',
  },
  cli: {
    change: 'rehearses',
    collect: 'reads nodes',
    deliver: 'tells logs and mailboxes',
    diagnose: 'what a figure says of a path',
    draft: 'writes a first intent',
    drift: 'compares with the nights before',
    history: 'keeps the nights',
    ethernet: 'sizes to probe',
    facts: 'saved surveys',
    files: 'folders of reports',
    intent: 'loads it',
    judge: 'judges',
    probe: 'active tests',
    report: 'prints',
    schedule: 'prints timers',
    share: 'shares the reading with other machines',
    site: 'joins',
    usage: 'completions',
  },
};

/** Modules of Node and packages that only the folders at the edge may use. */
const edgeOnly =
  /^(node:(fs|net|dgram|child_process|tls|http|dns|os|readline)|ssh2|net-snmp|nodemailer|pg)/;
const edges = new Set(['collect', 'files', 'probe', 'history', 'share', 'deliver', 'cli']);
/** Pure helpers of such modules that need no edge. */
const pure: Readonly<Record<string, string>> = {
  'isIP of node:net': 'a check of text',
  'BlockList,isIP of node:net': 'a check of text and of prefixes',
};

interface Import {
  readonly file: string;
  readonly from: string;
  readonly to: string;
  readonly names: string;
}

function filesOf(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => join(folder, name));
}

function importsOf(file: string): Import[] {
  const text = readFileSync(file, 'utf8');
  const found = text.matchAll(/(?:import|export)\s+([^;'"]*?)\s*from\s*'([^']+)'/g);
  const dynamic = text.matchAll(/import\('([^']+)'\)/g);
  const bare = text.matchAll(/^import\s+'([^']+)'/gm);
  return [
    ...[...found].map((m) => [m[2], m[1]]),
    ...[...dynamic, ...bare].map((m) => [m[1], '']),
  ].map(([to, names]) => ({
    file: relative(src, file),
    from: relative(src, file).split('/')[0] ?? '',
    to: to ?? '',
    names: names ?? '',
  }));
}

const imports = filesOf(src).flatMap(importsOf);
const local = imports.filter((i) => i.to.startsWith('.'));

describe('imports', () => {
  it('are found at all', () => {
    expect(local.length).toBeGreaterThan(20);
  });

  it('go only along the allowed edges', () => {
    const wrong = local.filter((i) => {
      const target = relative(src, resolve(src, dirname(i.file), i.to)).split('/')[0] ?? '';
      return target !== i.from && allowed[i.from]?.[target] === undefined;
    });
    expect(wrong.map((i) => `${i.file} -> ${i.to}`)).toEqual([]);
  });

  it('leave files, sockets and processes to the edges', () => {
    const wrong = imports.filter(
      (i) =>
        edgeOnly.test(i.to) &&
        !edges.has(i.from) &&
        pure[`${i.names.replace(/[{}\s]/g, '')} of ${i.to}`] === undefined,
    );
    expect(wrong.map((i) => `${i.file} -> ${i.to}`)).toEqual([]);
  });

  it('never form a circle of files', () => {
    const next = new Map<string, string[]>();
    for (const i of local) {
      if (/^type\b/.test(i.names)) continue;
      const list = next.get(i.file) ?? [];
      list.push(relative(src, resolve(src, dirname(i.file), i.to)));
      next.set(i.file, list);
    }
    expect(circleIn(next)).toEqual([]);
  });
});

function circleIn(next: ReadonlyMap<string, readonly string[]>): string[] {
  const done = new Set<string>();
  const walk = (file: string, trail: readonly string[]): string[] => {
    if (trail.includes(file)) return [...trail.slice(trail.indexOf(file)), file];
    if (done.has(file)) return [];
    for (const to of next.get(file) ?? []) {
      const circle = walk(to, [...trail, file]);
      if (circle.length > 0) return circle;
    }
    done.add(file);
    return [];
  };
  for (const file of next.keys()) {
    const circle = walk(file, []);
    if (circle.length > 0) return circle;
  }
  return [];
}

describe('the pure part', () => {
  const core = filesOf(src).filter((file) => !edges.has(relative(src, file).split('/')[0] ?? ''));

  it('reads no clock, environment or chance', () => {
    const wrong = core.filter((file) =>
      /\bDate\.now\(|new Date\(\)|process\.(env|stdout|stderr|argv)|Math\.random/.test(
        readFileSync(file, 'utf8'),
      ),
    );
    expect(wrong.map((file) => relative(src, file))).toEqual([]);
  });

  it('parses JSON through one door', () => {
    const wrong = filesOf(src).filter(
      (file) => /JSON\.parse\(/.test(readFileSync(file, 'utf8')) && !file.endsWith('facts/json.ts'),
    );
    expect(wrong.map((file) => relative(src, file))).toEqual([]);
  });
});

describe('the promise to change nothing', () => {
  it('has no SNMP SET anywhere in the code', () => {
    const wrong = filesOf(src).filter((file) =>
      /\.set\s*\(\s*\[?\s*(varbinds|\{\s*oid)|SetRequest|PduType\.Set/.test(
        readFileSync(file, 'utf8'),
      ),
    );
    expect(wrong.map((file) => relative(src, file))).toEqual([]);
  });
});

describe('exports', () => {
  const texts = new Map(
    [src, resolve(src, '../test'), resolve(src, '../mocks')]
      .flatMap(filesOf)
      .map((file) => [file, readFileSync(file, 'utf8')]),
  );
  const exported = filesOf(src).flatMap((file) => {
    const text = texts.get(file) ?? '';
    const pattern = /^export (?:async )?(?:function|const|interface|type|class) (\w+)/gm;
    return [...text.matchAll(pattern)].map(({ 1: name = '', index }) => ({
      name,
      file,
      before: text.slice(0, index),
    }));
  });

  it('are found at all', () => {
    expect(exported.length).toBeGreaterThan(300);
  });

  it('each say what they are', () => {
    const undocumented = exported.filter(({ before }) => !before.trimEnd().endsWith('*/'));
    expect(undocumented.map(({ file, name }) => `${relative(src, file)} ${name}`)).toEqual([]);
  });

  it('are each used by somebody, if only within their own file', () => {
    const uses = new Map<string, number>();
    for (const text of texts.values()) {
      for (const [word] of text.matchAll(/\w+/g)) uses.set(word, (uses.get(word) ?? 0) + 1);
    }
    const dead = exported.filter(({ name }) => (uses.get(name) ?? 0) < 2);
    expect(dead.map(({ file, name }) => `${relative(src, file)} ${name}`)).toEqual([]);
  });
});

describe('a limit of time', () => {
  it('is a timer of its own, since AbortSignal.timeout may be collected before it fires', () => {
    const users = filesOf(src).filter((file) =>
      readFileSync(file, 'utf8')
        .split('\n')
        .some((line) => line.includes('AbortSignal.timeout(')),
    );
    expect(users.map((file) => relative(src, file))).toEqual([]);
  });
});
