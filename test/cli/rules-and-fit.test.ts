import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { fakeRun, host, office } from './fake-io.ts';

describe('rules', () => {
  it('prints those of the intent', async () => {
    const fake = fakeRun({ files: office });
    expect(await run(['rules'], fake.io)).toBe(0);
    expect(fake.stdout()).toContain('path-clearance (error, judges each path)');
    expect(fake.stdout()).not.toContain('node-read');
  });

  it('prints all that ship where there is no intent', async () => {
    const fake = fakeRun();
    expect(await run(['rules'], fake.io)).toBe(0);
    expect(fake.stdout()).toContain('node-read (error, judges each node)');
    expect(fake.stdout()).toContain('path-clearance (error, judges each path)');
  });

  it('prints the dictionary with --facts', async () => {
    const fake = fakeRun();
    expect(await run(['rules', '--facts'], fake.io)).toBe(0);
    expect(fake.stdout()).toContain('port.mtuBytes (number in bytes, read)');
  });
});

/** Lines as they were before they were wrapped to the screen. */
const unwrapped = (text: string) => text.replaceAll(/\n {4}(?=\S)/g, ' ');

describe('fit', () => {
  it('says what it would send with --show-commands, and sends nothing', async () => {
    const fake = fakeRun();
    expect(await run(['fit', 'here', '198.18.20.7', '--show-commands'], fake.io)).toBe(0);
    const lines = unwrapped(fake.stdout()).split('\n');
    expect(
      Math.max(
        ...fake
          .stdout()
          .split('\n', 3)
          .map(({ length }) => length),
      ),
    ).toBeLessThan(81);
    expect(lines.at(-2)).toBe('nothing was sent');
    expect(fake.stdout()).toContain('\n  ping -n -M do -s BYTES -c 1 -W 1 ADDRESS  (linux: ');
    expect(lines[0]).toBe(
      'from here to 198.18.20.7: at most 12 echo requests, one after the other, of 1500, 2000, 9000 bytes and, where the last is lost, of some of 8978, 8982, 8986, 8996; not to be cut in pieces',
    );
  });

  it('takes the sizes that are given, in order, each once', async () => {
    const fake = fakeRun();
    const sizes = ['--size', '4000', '--size', '1500', '--size', '4000'];
    await run(['fit', 'here', '198.18.20.7', '--show-commands', ...sizes], fake.io);
    expect(unwrapped(fake.stdout())).toContain('of 1500, 4000 bytes; not to be cut');
  });

  it('says how many packets all paths may cost, before it sends any', async () => {
    const two = {
      ...office,
      'hopgauge.yaml': (office['hopgauge.yaml'] ?? '').replace(
        'paths: {',
        'paths: { returning: { from: vault, to: plot-1, over: storage },',
      ),
    };
    const fake = fakeRun({ files: two, io: { resolve: async () => '198.18.20.7' } });
    expect(await run(['fit', '--all', '--show-commands'], fake.io)).toBe(0);
    const lines = unwrapped(fake.stdout())
      .split('\n')
      .filter((line) => /^(?:from|\d)/.test(line));
    expect(lines).toHaveLength(5);
    const [pairs = 0, packets = 0] = (lines[0]?.match(/\d+/g) ?? []).map(Number);
    expect(lines[0]).toContain('pairs of ends, one after the other: at most');
    expect(pairs).toBe(2);
    expect(packets).toBe(pairs * 2 * 12);
  });

  it.each(['--survey', '--into'])(
    'sends to the address that the survey of %s has',
    async (file) => {
      const route = (to: string, device: string) => ({ to, device });
      const ends = {
        'plot-1': host('en7', 9000, { routes: [route('198.18.20.7', 'en7')] }),
        vault: host('eth4', 9000, { routes: [route('198.18.20.7', 'eth4')] }),
      };
      const fake = fakeRun({
        files: office,
        nodes: ends,
        io: { resolve: async () => '198.18.99.9' },
      });
      await run(['survey', '--out', 'tuesday.json', '--quiet'], fake.io);
      expect(
        await run(['fit', 'plot-1', 'vault', file, 'tuesday.json', '--show-commands'], fake.io),
      ).toBe(0);
      expect(fake.stdout()).toContain('from plot-1 to 198.18.20.7: at most 12');
    },
  );

  it('takes every pair of ends of one path', async () => {
    const fake = fakeRun({ files: office, io: { resolve: async () => '198.18.20.7' } });
    expect(await run(['fit', '--path', 'plotting', '--show-commands'], fake.io)).toBe(0);
    expect(fake.stdout()).toContain('from vault to 198.18.20.7: at most 12');
  });

  const rows = [
    [['fit'], 'say between whom: FROM and TO, --path NAME, or --all\n'],
    [['fit', 'plot-1'], 'say to whom: hopgauge fit plot-1 TO\n'],
    [
      ['fit', 'plot-1', 'vault', '--all'],
      'give FROM and TO, or --path NAME, or --all; not two of them\n',
    ],
    [
      ['fit', '--path', 'ploting', '--all'],
      'give FROM and TO, or --path NAME, or --all; not two of them\n',
    ],
    [['fit', '--path', 'ploting'], "no path 'ploting' in the intent; write 'plotting'\n"],
    [['fit', 'vault', 'vault'], "both ends are 'vault'; name two different ones\n"],
    [['fit', 'plot-1', 'vualt'], "no node 'vualt' in hopgauge.yaml; write 'vault'\n"],
    [
      ['fit', 'here', 'nobody-at-all'],
      "no node 'nobody-at-all' in hopgauge.yaml; give a node of the intent, an address, or 'here'\n",
    ],
    [
      ['fit', '198.18.20.7', '198.18.20.8'],
      "nothing can be sent between 198.18.20.7 and 198.18.20.8: one of them must be a host with SSH or 'here', and the other must have an address\n",
    ],
    [
      [
        'fit',
        'here',
        '198.18.20.7',
        ...Array(7)
          .fill(0)
          .flatMap((_, i) => ['--size', `${900 + i}`]),
      ],
      'at most 6 sizes; leave some out\n',
    ],
  ] as const;
  it('64: a survey that nothing could be explained with', async () => {
    const fake = fakeRun();
    const argv = ['fit', 'here', '198.18.20.7', '--survey', 'tuesday.json'];
    expect(await run(argv, fake.io)).toBe(64);
    expect(fake.stderr()).toBe(
      '--survey explains a path of an intent, and there is none here; give --intent FILE\n',
    );
  });

  it('64: a path by name where there is no intent', async () => {
    const fake = fakeRun();
    expect(await run(['fit', '--path', 'plotting'], fake.io)).toBe(64);
    expect(fake.stderr()).toBe(
      'a path is declared in an intent, and there is none here; give --intent FILE, or FROM and TO\n',
    );
  });

  for (const [argv, stderr] of rows) {
    it(`64: ${argv.slice(0, 3).join(' ')}`, async () => {
      const fake = fakeRun({ files: office });
      expect(await run(argv, fake.io)).toBe(64);
      expect(fake.stderr()).toBe(stderr);
    });
  }
});
