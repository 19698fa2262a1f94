import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';
import { fakeRun, host, office, twoHosts } from './fake-io.ts';

const nodes = { 'plot-1': host('en7', 1500), vault: host('eth4', 1500) };
const change = 'change: 1\nabout: storage to 9000\nsegments: { storage: { mtu: 9000 } }\n';

async function said(argv: readonly string[], sketch: Parameters<typeof fakeRun>[0] = {}) {
  const files = { ...office, 'change.yaml': change, ...sketch.files };
  const fake = fakeRun({ nodes, ...sketch, files });
  const status = await run(['rehearse', ...argv], fake.io);
  return { status, stdout: fake.stdout(), stderr: fake.stderr(), fake };
}

describe('rehearse', () => {
  it('works a change out, with the state after each step', async () => {
    const { status, stdout } = await said(['change.yaml', '--quiet']);
    expect(stdout).toBe(`rehearsal: storage to 9000
2 steps, worked out from the segments; on what was read 2026-11-25 02:00 UTC;
nothing was changed

start 1 pair of ends not yet as declared, 7500 bytes lacking in all
1     plot-1:en7: mtu 1500 to 9000; its link goes down for a moment
      meanwhile no way for plotting
      type ip link set dev en7 mtu 9000
      then 1 pair of ends not yet as declared, 7500 bytes lacking in all
2     vault:eth4: mtu 1500 to 9000; its link goes down for a moment
      meanwhile no way for plotting
      type ip link set dev eth4 mtu 9000
      then no path is known to lack what is declared
        plotting: 9000 of 9000 bytes pass
        audit: mends path-clearance on plotting
order no pair of ends is apart or loses large packets at a hop in the middle at
      any step; where one end takes less than the other sends, TCP agrees on the
      smaller, and large UDP and ICMP may be lost; of all orders this one is
      best

mind        plot-1:en7 and vault:eth4 each carry the address by which its node
            is read: a step there takes your own way in down for a moment, and
            with a wrong value short answers still come, and long ones may hang
  do        have its console at hand, and a timer that sets the old value back
            unless you stop it

two ways for segment storage: all at 9000 bytes, or all at 1500
9000 bytes  as in this change: 2 steps, a link goes down for a moment at 2 of
            them; at worst 1 pair of ends not yet as declared, 7500 bytes
            lacking in all
1500 bytes  nothing to set
carries     plotting at 10 Gb/s, the slowest that is known of it: at 9000 bytes
            at most 9900.4 Mb/s of TCP data in 138304 packets a second; at 1500
            bytes at most 9414.8 Mb/s of TCP data in 812743 packets a second:
            5.16 % more with the larger

mended      plotting: carries at most 1500 of 9000 bytes

after the change: hopgauge confirm change.yaml
`);
    expect(status).toBe(0);
  });

  it('keeps the rehearsal as JSON, the same that it prints', async () => {
    const { stdout, fake } = await said(['change.yaml', '--format', 'json', '--out', 'r.json']);
    expect(fake.files.get('r.json')).toBe(stdout);
    expect(parseJson(stdout)).toMatchObject({ rehearsal: 1, about: 'storage to 9000' });
  });

  it('writes a procedure in Markdown', async () => {
    const { stdout } = await said(['change.yaml', '--format', 'markdown']);
    expect(stdout).toMatch(/^# Procedure: storage to 9000\n/);
    expect(stdout).toContain('\nhopgauge confirm change.yaml\n');
    expect(stdout).toContain('\nhopgauge confirm change.yaml --step 2\n');
    expect(stdout).toContain('ip link set dev eth4 mtu 9000');
    expect(stdout).toContain(
      '\n## Two ways for segment storage: all at 9000 bytes, or all at 1500\n\n- 9000 bytes: as in this change: 2 steps',
    );
  });

  it('finds nothing left to set once it is done', async () => {
    const done = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };
    const { status, stdout } = await said(['change.yaml'], { nodes: done });
    expect(stdout).toContain('nothing is left to set');
    expect(status).toBe(0);
  });

  it('takes a second intent as the change', async () => {
    const next = twoHosts.replace('mtu: 9000', 'mtu: 4000');
    const { status, stdout } = await said(['next.yaml'], { files: { 'next.yaml': next } });
    expect(stdout).toContain('1     plot-1:en7: mtu 1500 to 4000');
    expect(status).toBe(0);
  });

  it('rehearses on a saved survey without reading', async () => {
    const first = await said(['change.yaml']);
    const saved = fakeRun({ files: office, nodes });
    await run(['survey', 'hopgauge.yaml', '--quiet', '--out', 'tuesday.json'], saved.io);
    const files = { 'tuesday.json': saved.files.get('tuesday.json') ?? '' };
    const again = await said(['change.yaml', '--survey', 'tuesday.json'], { files });
    expect(again.fake.asked).toEqual([]);
    expect(again.stdout).toBe(first.stdout);
  });

  it('says what to do about what the change breaks, in text and in the procedure', async () => {
    const files = {
      'narrow.yaml': 'change: 1\nabout: narrow\nports: { "vault:eth4": { mtu: 1500 } }\n',
    };
    const wide = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };
    const { stdout } = await said(['narrow.yaml'], { files, nodes: wide });
    expect(stdout).toMatch(/\nbreaks {6}plotting: carries .*\n(?: {12}.*\n)* {2}do {8}\S/);
    const procedure = await said(['narrow.yaml', '--format', 'markdown'], { files, nodes: wide });
    expect(procedure.stdout).toMatch(/\n- it breaks: plotting: carries .*; to do: \S/);
  });

  it('has status 1 for what is impossible', async () => {
    const small = host('eth4', 1500);
    const ports = small.ports.map((port) => ({
      ...port,
      facts: { ...port.facts, mtuMaxBytes: 4082 },
    }));
    const { status, stdout } = await said(['change.yaml'], {
      nodes: { ...nodes, vault: { ...small, ports } },
    });
    expect(status).toBe(1);
    expect(stdout).toContain(
      'impossible  vault:eth4 cannot be set to 9000: its driver accepts at most 4082',
    );
  });

  it('never says that nothing is left to set where what was asked for is refused', async () => {
    const refused = 'change: 1\nports: { "vault:eth4": { mtu: 9000 } }\n';
    const small = host('eth4', 1500);
    const ports = small.ports.map((port) => ({
      ...port,
      facts: { ...port.facts, mtuMaxBytes: 4082 },
    }));
    const { status, stdout } = await said(['refused.yaml'], {
      files: { 'refused.yaml': refused },
      nodes: { ...nodes, vault: { ...small, ports } },
    });
    expect(status).toBe(1);
    expect(stdout).toContain('\nnothing can be set: 1 refused\n');
    expect(stdout).not.toContain('nothing is left to set');
  });

  it('has status 2 where a node could not be read', async () => {
    const { status, stdout } = await said(['change.yaml'], { nodes: { vault: nodes.vault } });
    expect(status).toBe(2);
    expect(stdout).toContain('not known   plot-1 could not be read: no answer within 10 s');
  });

  it.each([
    ['no such file', ['none.yaml'], 'none.yaml: no such file; name a change file'],
    [
      'a procedure without a change',
      ['--format', 'markdown'],
      '--format markdown is the procedure of a change: name a change file',
    ],
    [
      'a survey without a change',
      ['--survey', 'x.json'],
      '--survey has no use without a change: name a change file, or leave it out',
    ],
  ])('refuses %s', async (_, argv, words) => {
    const { status, stderr } = await said(argv);
    expect(stderr).toContain(words);
    expect([64, 78]).toContain(status);
  });

  it('tells a port that is not there, with those that are', async () => {
    const files = { 'p.yaml': 'change: 1\nports: { "vault:eth44": { mtu: 9000 } }\n' };
    const { status, stderr } = await said(['p.yaml'], { files });
    expect(status).toBe(78);
    expect(stderr).toContain("p.yaml:2:10: vault has no such port; 'eth44'; it has eth4");
  });
});
