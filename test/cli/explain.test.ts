import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';
import { explainSchema } from '../../src/report/explain-schema.ts';
import { fakeRun, host, office } from './fake-io.ts';

const slow = host('eth4', 9000);
const [port] = slow.ports;
const nodes = {
  'plot-1': host('en7', 9000),
  vault: {
    ...slow,
    ports: port === undefined ? [] : [{ ...port, facts: { ...port.facts, speedMbps: 1000 } }],
  },
};

async function said(argv: readonly string[], sketch: Parameters<typeof fakeRun>[0] = {}) {
  const fake = fakeRun({ files: office, nodes, ...sketch });
  const status = await run(['explain', ...argv], fake.io);
  return { status, stdout: fake.stdout(), stderr: fake.stderr(), fake };
}

describe('explain', () => {
  it.each(['vault:eth4', 'plot-1:en7', 'vault', 'plotting', 'storage'])(
    'tells why %s is slow, with status 0',
    async (target) => {
      const { status, stdout } = await said([target]);
      expect(status).toBe(0);
      expect(stdout.replaceAll(/\s+/g, ' ')).toContain(
        'plot-1:en7 - vault:eth4 reports 10 Gb/s at one end and 1 Gb/s at the other',
      );
      expect(stdout).toMatch(/^is {6}something between the ends/m);
      expect(stdout).toMatch(/^next {4}join /m);
    },
  );

  it('explains a saved survey without reading anything, and the same', async () => {
    const first = await said(['vault:eth4']);
    const fake = fakeRun({ files: office, nodes });
    await run(['survey', 'hopgauge.yaml', '--quiet', '--out', 'tuesday.json'], fake.io);
    const files = { ...office, 'tuesday.json': fake.files.get('tuesday.json') ?? '' };
    const again = await said(['vault:eth4', '--survey', 'tuesday.json'], { files });
    expect(again.stdout).toBe(first.stdout);
    expect(again.fake.asked).toEqual([]);
  });

  it('gives JSON that keeps to its schema', async () => {
    const { stdout } = await said(['plotting', '--format', 'json']);
    const told = explainSchema.parse(parseJson(stdout));
    expect(told.target).toEqual({ kind: 'path', name: 'plotting' });
    expect(told.parts.map(({ kind }) => kind)).toEqual(['path', 'link']);
  });

  it.each(['text', 'json'])('hides the office under --redact in %s', async (format) => {
    const { status, stdout } = await said(['vault:eth4', '--redact', '--format', format]);
    expect(status).toBe(0);
    expect(stdout.length).toBeGreaterThan(200);
    expect(stdout).not.toMatch(/vault|plot-1|plotting|saltmarsh|198\.18|hopgauge\.yaml/i);
    expect(stdout).toMatch(/:eth4/);
  });

  it('names what it would ask, and asks nothing', async () => {
    const { status, stdout, fake } = await said(['vault:eth4', '--show-commands']);
    expect(status).toBe(0);
    expect(stdout).toContain('nothing was sent');
    expect(fake.asked).toEqual([]);
  });

  it.each([
    ['vualt', "no node, port, link, path or segment 'vualt' in the intent; write 'vault'"],
    ['vault:eth5', "'vault:eth5' in the intent; write 'vault:eth4'"],
    ['\u001b[2Jx', 'name a node, node:port, link, path or segment of it'],
  ])('ends with 64 on the unknown target %j', async (target, words) => {
    const { status, stdout, stderr } = await said([target]);
    expect(status).toBe(64);
    expect(stdout).toBe('');
    expect(stderr).toContain(words);
    expect(stderr).not.toContain('\u001b');
  });

  it('reads nobody for a name that can be nothing', async () => {
    const { fake } = await said(['vualt']);
    expect(fake.asked).toEqual([]);
  });

  it.each(['text', 'json'])('lets no text of a device move the cursor in %s', async (format) => {
    const text = 'x\u001b[2J\u009b1m\u202e\nnothing wrong: FORGED';
    const facts = { kind: 'physical', adminUp: true, speedMbps: 1000, duplex: 'full' };
    const say = { moduleText: text, busText: text, linkText: text, phyText: text };
    const ports = [{ name: 'eth4', facts: { ...facts, operUp: false, ...say } }];
    const portSources = { operUp: text };
    const hostile = { ...nodes, vault: { ...slow, ports, portSources } };
    const { stdout } = await said(['vault:eth4', '--format', format], { nodes: hostile });
    expect(stdout).toContain('FORGED');
    expect(stdout).not.toMatch(/[\u001b\u009b\u202e]/);
    expect(stdout).not.toMatch(/^nothing wrong/m);
  });

  it('wants a target', async () => {
    expect((await said([])).status).toBe(64);
  });
});
