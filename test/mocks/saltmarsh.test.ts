import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { siteIo } from '../../mocks/saltmarsh/site-io.ts';
import { type RunningSite, startSaltmarsh } from '../../mocks/saltmarsh/start-site.ts';
import type { Io, Out } from '../../src/cli/io.ts';
import { processIo } from '../../src/cli/process-io.ts';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';

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
      files.set(path, text);
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

  it('opens every door', async () => {
    const { status, stdout } = await tell(['access', intent]);
    expect(stdout).toMatch(/plot-1/);
    expect(status).toBe(0);
  });
});
