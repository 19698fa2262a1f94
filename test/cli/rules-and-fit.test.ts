import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { fakeRun, office } from './fake-io.ts';

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

describe('fit', () => {
  it('says what it would send with --show-commands, and sends nothing', async () => {
    const fake = fakeRun();
    expect(await run(['fit', 'here', '198.18.20.7', '--show-commands'], fake.io)).toBe(0);
    expect(fake.stdout()).toBe(
      'from here to 198.18.20.7: up to 2 echo requests each of 1500, 9000 bytes, not to be fragmented; nothing was sent\n',
    );
  });

  it('takes the sizes that are given, in order, each once', async () => {
    const fake = fakeRun();
    const sizes = ['--size', '4000', '--size', '1500', '--size', '4000'];
    await run(['fit', 'here', '198.18.20.7', '--show-commands', ...sizes], fake.io);
    expect(fake.stdout()).toContain('each of 1500, 4000 bytes');
  });

  const rows = [
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
  for (const [argv, stderr] of rows) {
    it(`64: ${argv.slice(0, 3).join(' ')}`, async () => {
      const fake = fakeRun({ files: office });
      expect(await run(argv, fake.io)).toBe(64);
      expect(fake.stderr()).toBe(stderr);
    });
  }
});
