import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { siteIo } from '../../mocks/saltmarsh/site-io.ts';
import { type RunningSite, startSaltmarsh } from '../../mocks/saltmarsh/start-site.ts';
import type { Io } from '../../src/cli/io.ts';
import { processIo } from '../../src/cli/process-io.ts';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';

let site: RunningSite;
beforeAll(async () => {
  site = await startSaltmarsh();
});
afterAll(() => site.stop());

/** The office from its doors alone, with `files` beside those of the disk. */
async function tell(argv: readonly string[], files: Readonly<Record<string, string>> = {}) {
  const said = { stdout: '', stderr: '' };
  const real = siteIo(
    site,
    processIo(new AbortController().signal, () => {}),
  );
  const into = (name: 'stdout' | 'stderr') => ({
    isTerminal: false,
    write: (text: string) => {
      said[name] += text;
    },
  });
  const io: Io = {
    ...real,
    stdout: into('stdout'),
    stderr: into('stderr'),
    readTextFile: async (path) => {
      const text = files[path];
      return text === undefined ? real.readTextFile(path) : { ok: true, text };
    },
  };
  return { status: await run(argv, io), ...said };
}

const hosts = ['plot-1', 'plot-2', 'vault', 'gate'].map((name) => `hosts=${name}.office.example`);
const switches = ['quay-sw', 'loft-sw'].map((name) => `switches=${name}.office.example`);
const drafting = ['draft', '--access', 'mocks/saltmarsh/intent.yaml', ...hosts, ...switches];

interface Finding {
  readonly rule: string;
  readonly verdict: string;
  readonly subject: { readonly id: string };
}

describe('a draft of the Saltmarsh office', () => {
  it('finds its links, and its audit tells the faults that were there all along', async () => {
    const drafted = await tell(drafting);
    expect(drafted.status).toBe(0);
    expect(drafted.stderr).toContain(
      '6 nodes read, 0 not; 6 links (4 known by LLDP, 2 by forwarding tables)',
    );
    const files = { '/saltmarsh.yaml': drafted.stdout };
    const audited = await tell(['audit', '/saltmarsh.yaml', '--format', 'json'], files);
    const { findings } = parseJson(audited.stdout) as { findings: readonly Finding[] };
    const told = (verdict: string) =>
      findings
        .filter((each) => each.verdict === verdict)
        .map(({ rule, subject }) => `${rule} ${subject.id}`);
    expect(told('undetermined')).toEqual([]);
    expect(told('broken')).toEqual([
      'switch-carries-segment loft-sw:xg1',
      'port-clearance loft-sw:xg1',
      'speed-as-declared plot-2:eno1',
      'ends-same-speed plot-2:eno1 - loft-sw:xg5',
      'path-clearance plot-2-to-vault',
      'live-ports-declared quay-sw',
    ]);
  });

  it('prints nothing onto the intent that has it all', async () => {
    const { status, stdout, stderr } = await tell([
      'draft',
      '--onto',
      'mocks/saltmarsh/intent.yaml',
    ]);
    expect(status).toBe(0);
    expect(stdout).toBe('');
    expect(stderr).toContain('0 links');
  });
});
