import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type LocalLine, writeLocalLog } from '../../src/deliver/write-local-log.ts';
import { ownFolder } from '../history/store.ts';
import { streamReceiver } from './receivers.ts';

const never = new AbortController().signal;
const facility = 'local3';
const notice: LocalLine = { priority: 'notice', text: 'cleared: ü $(id) "x" --rfc5424' };

/** A program in the place of `logger`. */
const script = (text: string) => ({ facility, command: ['sh', '-c', text, 'logger'] });

const hasLogger = /util-linux/.test(
  spawnSync('logger', ['--version'], { encoding: 'utf8' }).stdout ?? '',
);

describe.skipIf(!hasLogger)('the log of this machine', () => {
  it('gets each line from the real logger, with its priority', async () => {
    const socket = join(ownFolder(), 'log');
    const receiver = await streamReceiver(socket);
    const log = { facility, command: ['logger', '--socket', socket] };
    expect(await writeLocalLog([notice], log, never)).toEqual({ ok: true });
    // RFC 3164 section 4.1.1: local3 is 19; 19 * 8 + 5.
    expect((await receiver.whole).toString('utf8')).toMatch(
      /^<157>\w{3} [ \d]\d \d\d:\d\d:\d\d hopgauge: cleared: ü \$\(id\) "x" --rfc5424[\0\n]?$/,
    );
  });
});

describe('what is given to logger', () => {
  it('is one call for each severity, gravest first, the lines on its input', async () => {
    const file = join(ownFolder(), 'calls');
    const lines: LocalLine[] = [
      notice,
      { priority: 'err', text: 'one' },
      { priority: 'notice', text: 'two' },
    ];
    const log = script(`{ echo "$@"; cat; } >> '${file}'`);
    expect(await writeLocalLog(lines, log, never)).toEqual({ ok: true });
    const { readFile } = await import('node:fs/promises');
    expect((await readFile(file, 'utf8')).split('\n')).toEqual([
      '-t hopgauge -p local3.err',
      'one',
      '-t hopgauge -p local3.notice',
      notice.text,
      'two',
      '',
    ]);
  });

  const rows = [
    [
      'a complaint',
      script('cat >/dev/null; echo no room >&2; exit 3'),
      'logger ended with 3: no room',
    ],
    ['no words', script('exit 1'), 'logger ended with 1'],
    [
      'no program',
      { facility, command: ['/nowhere/logger', '-x'] },
      'the program is not installed',
    ],
  ] as const;
  for (const [name, log, reason] of rows) {
    it(`is not delivered: ${name}`, async () => {
      expect(await writeLocalLog([notice], log, never)).toEqual({ ok: false, reason });
    });
  }

  it('ends with the time of the run', async () => {
    const stop = new AbortController();
    const told = writeLocalLog([notice], script('exec sleep 20'), stop.signal);
    stop.abort();
    expect(await told).toEqual({ ok: false, reason: 'the time of the run is over' });
  });
});
