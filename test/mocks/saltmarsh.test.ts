import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { siteIo } from '../../mocks/saltmarsh/site-io.ts';
import { type RunningSite, startSaltmarsh } from '../../mocks/saltmarsh/start-site.ts';
import type { Io, Out } from '../../src/cli/io.ts';
import { processIo } from '../../src/cli/process-io.ts';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';
import type { Survey } from '../../src/facts/survey.ts';
import { loadFrom } from '../intent/load.ts';
import { expectGolden } from '../report/golden.ts';
import { legiblePage, unpack } from '../report/page/read-page.ts';
import { whole } from '../report/whole.ts';

const intent = 'mocks/saltmarsh/intent.yaml';

interface Told {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
  readonly files: ReadonlyMap<string, string>;
}

let site: RunningSite;
beforeAll(async () => {
  site = await startSaltmarsh();
});
afterAll(() => site.stop());

function outInto(out: Record<'stdout' | 'stderr', string>, name: 'stdout' | 'stderr'): Out {
  return {
    isTerminal: false,
    write: (text) => {
      out[name] += text;
    },
  };
}

async function tell(argv: readonly string[], saved?: string): Promise<Told> {
  const out = { stdout: '', stderr: '' };
  const files = new Map<string, string>();
  const real = processIo(new AbortController().signal, () => {});
  const io: Io = {
    ...siteIo(site, real),
    stdout: outInto(out, 'stdout'),
    stderr: outInto(out, 'stderr'),
    now: () => new Date('2026-11-25T02:00:00.000Z'),
    writeFile: async (path, text) => {
      files.set(path, whole(text));
      return { ok: true };
    },
    readSurveyFile: async () =>
      saved === undefined ? { ok: false, reason: 'no such file' } : { ok: true, text: saved },
  };
  const status = await run(argv, io);
  return { status, ...out, files };
}

interface Report {
  readonly findings: readonly {
    readonly rule: string;
    readonly verdict: string;
    readonly cause: string;
    readonly subject: { readonly id: string };
  }[];
}

/** Far end, and whether it is tagged, by `node:port` of both ends of each link of the intent. */
async function declaredLinks() {
  const loaded = await loadFrom({ 'site.yaml': await readFile(intent, 'utf8') });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
  return new Map(
    loaded.value.links.flatMap(({ ends: [a, b], tagged }) => {
      const [one, other] = [`${a.node}:${a.port}`, `${b.node}:${b.port}`];
      const isTagged = tagged.length > 0;
      return [
        [one, { far: other, tagged: isTagged }],
        [other, { far: one, tagged: isTagged }],
      ] as const;
    }),
  );
}

describe('the Saltmarsh office, read through the real collectors', () => {
  it('has one hop at 1500, one slow link, one waived printer, and nothing unknown', async () => {
    const { status, stdout, stderr } = await tell(['audit', intent, '--format', 'json']);
    expect(stderr).toBe('');
    expect(status).toBe(1);
    const { findings } = parseJson(stdout) as Report;
    const causes = new Map(findings.map((f) => [f.cause, f.verdict]));
    expect(Object.fromEntries(causes)).toEqual({
      'mtu loft-sw:xg1': 'broken',
      'link shed-sw:p2 - plot-2:eno1': 'broken',
      'live-ports-declared quay-sw': 'broken',
      'link quay-sw:g7 - labeller:lan': 'waived',
    });
    expect(findings.map((f) => `${f.rule} ${f.subject.id}`)).toContain('path-clearance drawing');
  });

  it('is judged again from a saved survey, byte for byte', async () => {
    const survey = await tell(['survey', intent, '--quiet', '--out', 'office.json']);
    const saved = survey.files.get('office.json');
    expect(survey.status).toBe(0);
    const first = await tell(
      ['audit', intent, '--survey', 'office.json', '--format', 'json'],
      saved,
    );
    const again = await tell(
      ['audit', intent, '--survey', 'office.json', '--format', 'json'],
      saved,
    );
    expect(first.status).toBe(1);
    expect(first.stdout.length).toBeGreaterThan(1000);
    expect(again.stdout).toBe(first.stdout);
  });

  it('lets a fit name the hop that explains what does not pass', async () => {
    const survey = await tell(['survey', intent, '--quiet', '--out', 'office.json']);
    const saved = survey.files.get('office.json');
    const { status, stdout } = await tell(
      ['fit', 'plot-2', 'vault', '--intent', intent, '--survey', 'office.json'],
      saved,
    );
    expect(stdout).toContain('loft-sw:xg1');
    expect(status).toBe(1);
  });

  it('hides the whole office under --redact', async () => {
    for (const form of ['text', 'json']) {
      const { stdout } = await tell(['audit', intent, '--format', form, '--redact']);
      expect(stdout.length).toBeGreaterThan(500);
      expect(stdout).not.toMatch(/plot-|vault|quay|loft|\bgate\b|saltmarsh|198\.18|02:00:5e|W-07/i);
    }
  });

  it('hides it on the page, and in what the page carries packed', async () => {
    const { stdout } = await tell(['audit', intent, '--format', 'html', '--redact']);
    const { later, facts } = unpack(stdout);
    const cells = Object.values(facts).flatMap((table) => table.flatMap((column) => column.cells));
    expect(cells.length).toBeGreaterThan(100);
    const shown = [stdout, ...Object.values(later), ...cells].join('\n');
    expect(shown).not.toMatch(/plot-|vault|quay|loft|\bgate\b|saltmarsh|198\.18|02:00:5e|W-07/i);
  });

  it('has the page that is kept as golden', async () => {
    const { status, stdout } = await tell(['audit', intent, '--format', 'html']);
    expect(status).toBe(1);
    expectGolden('demo-page.html', legiblePage(stdout));
  });

  it('hears at its switches what the intent declares there', async () => {
    const survey = await tell(['survey', intent, '--quiet', '--out', 'office.json']);
    const { nodes } = parseJson(survey.files.get('office.json') ?? '') as Survey;
    const declared = await declaredLinks();
    for (const name of ['quay-sw', 'loft-sw']) {
      const node = nodes.find((one) => one.node === name);
      expect(node?.gaps['neighbours']).toBeUndefined();
      expect(node?.gaps['forwarding']).toBeUndefined();
      const far = (port: string) => declared.get(`${name}:${port}`)?.far;
      const heard = node?.neighbours?.map(({ port, systemName, portId }) => [
        port,
        `${systemName}:${portId}`,
      ]);
      // The telephone is in no link of the intent.
      expect(heard?.filter(([port]) => port !== 'g1')).toEqual(
        heard?.flatMap(([port = '']) => (far(port) === undefined ? [] : [[port, far(port)]])),
      );
      expect(heard?.length).toBe(name === 'quay-sw' ? 5 : 1);
      const tagged = node?.ports.flatMap(({ name: port, facts }) =>
        facts.taggedVlans === undefined || facts.taggedVlans.length === 0
          ? []
          : [[port, facts.taggedVlans]],
      );
      const wanted = node?.ports.flatMap(({ name: port }) =>
        declared.get(`${name}:${port}`)?.tagged === true ? [[port, [1, 20]]] : [],
      );
      expect(tagged).toEqual(wanted);
    }
    const quay = nodes.find(({ node }) => node === 'quay-sw');
    const member = quay?.ports.find(({ name }) => name === 'xg3')?.facts;
    expect(member?.aggregate).toBe('lag1');
    expect(member?.lacpPartnerSystem).toBe('02:00:5e:00:00:31');
  });

  it('opens every door', async () => {
    const { status, stdout } = await tell(['access', intent]);
    expect(stdout).toMatch(/plot-1/);
    expect(status).toBe(0);
  });
});
