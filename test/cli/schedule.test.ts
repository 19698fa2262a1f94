import { describe, expect, it } from 'vitest';
import type { Io } from '../../src/cli/io.ts';
import { run } from '../../src/cli/run.ts';
import { fakeRun, office } from './fake-io.ts';

const program = ['/usr/bin/node', '/usr/lib/hopgauge/dist/cli/main.js'];

function officeIn(workingFolder: string, more: Partial<Io> = {}) {
  const files = Object.fromEntries(
    Object.entries(office).flatMap(([name, text]) => [
      [name, text],
      [`${workingFolder}/${name}`, text],
    ]),
  );
  return fakeRun({ files, io: { workingFolder, program, ...more } });
}

describe('schedule', () => {
  const rows = [
    [
      'systemd',
      [],
      'ExecStart=/usr/bin/node /usr/lib/hopgauge/dist/cli/main.js audit /etc/office/hopgauge.yaml --changes ',
    ],
    ['this account', [], 'User=tide\n'],
    ['another account', ['--user', 'auditor'], 'User=auditor\n'],
    ['another hour', ['--at', '23:45'], 'OnCalendar=*-*-* 23:45:00\n'],
    ['its watch, six hours on', ['--at', '23:45'], 'OnCalendar=*-*-* 05:45:00\n'],
    ['another deadline', ['--deadline', '2h'], 'TimeoutStartSec=7260\n'],
    ['cron', ['--as', 'cron'], '\n0 2 * * * /usr/bin/node '],
    [
      'cron of the system',
      ['--as', 'cron', '--user', 'auditor'],
      '\n0 2 * * * auditor /usr/bin/node ',
    ],
    ['an intent by name', ['hopgauge.yaml'], ' audit /etc/office/hopgauge.yaml --changes'],
  ] as const;
  for (const [name, argv, said] of rows) {
    it(`0: ${name}`, async () => {
      const fake = officeIn('/etc/office');
      expect([await run(['schedule', ...argv], fake.io), fake.stderr()]).toEqual([0, '']);
      expect(fake.stdout()).toContain(said);
    });
  }

  it('writes and reads nothing but the intent', async () => {
    const fake = officeIn('/etc/office', {
      writeFile: async () => expect.fail('schedule installs nothing'),
    });
    await run(['schedule'], fake.io);
    expect(fake.asked).toEqual([]);
  });

  const wrong = [
    ['no time of day', ['--at', '25:00'], "--at: '25:00' is no time of day; write 02:00"],
    ['a time with seconds', ['--at', '02:00:00'], "--at: '02:00:00' is no time of day"],
    ['two lines for a time', ['--at', '02:00\nx'], '--at: '],
    ['no account', ['--user', 'a b'], "--user: 'a b' is no name of an account"],
    ['an account of two lines', ['--user', 'a\nExecStart=/bin/x'], '--user: '],
    ['no age', ['--deadline', '30'], "--deadline: '30' is no age"],
    ['a deadline within the spread', ['--as', 'cron', '--deadline', '5m'], '--spread is part of'],
  ] as const;
  for (const [name, argv, said] of wrong) {
    it(`64: ${name}`, async () => {
      const fake = officeIn('/etc/office');
      expect(await run(['schedule', ...argv], fake.io)).toBe(64);
      expect(fake.stdout()).toBe('');
      expect(fake.stderr()).toContain(said);
    });
  }

  const places = [
    ['two lines in a path', '/etc/office\nExecStartPre=/bin/x', program, [], 'no timer takes'],
    ['a folder that a service does not see', '/tmp/office', program, [], 'a /tmp of its own'],
    ['a program in quotes', '/etc/office', ['/opt/"x"/node'], [], 'no program with quotes'],
    ['the source tree', '/etc/office', ['/usr/bin/node', '/src/main.ts'], [], 'npm run build'],
    [
      'a command too long for cron',
      `/etc/${'x'.repeat(990)}`,
      program,
      ['--as', 'cron'],
      'where cron takes 998',
    ],
  ] as const;
  for (const [name, folder, command, argv, said] of places) {
    it(`64: ${name}`, async () => {
      const fake = officeIn(folder, { program: command });
      expect(await run(['schedule', ...argv], fake.io)).toBe(64);
      expect(fake.stdout()).toBe('');
      expect(fake.stderr()).toContain(said);
    });
  }

  it('lets cron see what is in /tmp', async () => {
    const fake = officeIn('/tmp/office');
    expect(await run(['schedule', '--as', 'cron'], fake.io)).toBe(0);
  });

  it('78 for an intent that cannot be used', async () => {
    const fake = fakeRun({ io: { workingFolder: '/etc/office', program } });
    expect(await run(['schedule', 'none.yaml'], fake.io)).toBe(78);
    expect(fake.stdout()).toBe('');
  });
});
