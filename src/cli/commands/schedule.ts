import { resolve } from 'node:path';
import { exitStatuses } from '../../report/exit-status.ts';
import { cronAudit, cronOctetsMax, cronText, cronWatch } from '../../schedule/cron-text.ts';
import { type Nightly, spread } from '../../schedule/nightly.ts';
import { isSystemdProgram } from '../../schedule/systemd-command.ts';
import { systemdText } from '../../schedule/systemd-text.ts';
import { ageMs } from '../ages.ts';
import type { Io } from '../io.ts';
import { defaultIntentFile, requireIntent } from '../load-inputs.ts';
import type { ScheduleOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { runTimeOf } from '../run-time.ts';

/** Prints a timer for a nightly audit; installs nothing. */
export async function schedule(
  file: string | undefined,
  options: ScheduleOptions,
  io: Io,
): Promise<number> {
  const time = timeOfDay(options.at);
  runTimeOf(options.deadline, options.as === 'cron' ? spread : undefined);
  const named = file ?? options.intent;
  // A timer for a file that cannot be used would fail each night, and unseen.
  await requireIntent(named, io);
  const intent = safePath(
    'the intent',
    resolve(io.workingFolder ?? '/', named ?? defaultIntentFile),
  );
  const nightly: Nightly = {
    program: programOf(io),
    intent,
    ...time,
    ...userOf(options, io),
    deadline: options.deadline,
    deadlineSeconds: Math.ceil(ageMs('--deadline', options.deadline) / 1000),
  };
  io.stdout.write(options.as === 'cron' ? cron(nightly) : systemd(nightly));
  return exitStatuses.met;
}

function timeOfDay(text: string): Pick<Nightly, 'hour' | 'minute'> {
  const [, hour, minute] = /^([01][0-9]|2[0-3]):([0-5][0-9])$/.exec(text) ?? [];
  if (hour === undefined || minute === undefined) {
    throw usage(`--at: '${text.slice(0, 40)}' is no time of day; write 02:00`);
  }
  return { hour: Number(hour), minute: Number(minute) };
}

/** A service needs its account named, a table of cron has one already. */
function userOf({ user, as }: ScheduleOptions, io: Io): Pick<Nightly, 'user'> {
  const name = user ?? (as === 'systemd' ? io.own.userName : undefined);
  if (name === undefined) return {};
  if (/^[A-Za-z_][A-Za-z0-9_.-]{0,31}$/.test(name)) return { user: name };
  throw usage(`--user: '${name.slice(0, 40)}' is no name of an account; write auditor`);
}

/** Absolute, since a timer has neither our folder nor our search path. */
function programOf({ program = ['/usr/local/bin/hopgauge'] }: Io): readonly string[] {
  if (program.some((word) => word.endsWith('.ts'))) {
    throw usage(
      'this hopgauge runs from source, which a timer cannot; run npm run build, then node dist/cli/main.js schedule',
    );
  }
  return program.map((word) => safePath('the program', word));
}

/** Control characters would end a line of the table, and a backslash at its end join two. */
function safePath(what: string, path: string): string {
  if (/^\/[^\p{Cc}\u2028\u2029]*$/u.test(path) && !/[\\\s]$/.test(path)) return path;
  throw usage(
    `${what} has a path that no timer takes: ${JSON.stringify(path.slice(0, 200))}; give it a plain name`,
  );
}

function systemd(nightly: Nightly): string {
  const [program = ''] = nightly.program;
  if (!isSystemdProgram(program)) {
    throw usage(
      `${program}: systemd runs no program with quotes in its path; give it a plain name`,
    );
  }
  const hidden = [...nightly.program, nightly.intent].find((path) => /^(\/var)?\/tmp\//.test(path));
  if (hidden === undefined) return systemdText(nightly);
  throw usage(
    `${hidden}: a service has a /tmp of its own (PrivateTmp=) and will not see it; move it to /etc/hopgauge, say`,
  );
}

function cron(nightly: Nightly): string {
  const longest = Math.max(
    ...[cronAudit(nightly), cronWatch(nightly)].map((line) => Buffer.byteLength(line)),
  );
  if (longest <= cronOctetsMax) return cronText(nightly);
  throw usage(
    `a command of ${longest} octets, where cron takes ${cronOctetsMax}; give the intent a shorter path`,
  );
}

function usage(line: string): RunFault {
  return new RunFault(exitStatuses.usage, [line]);
}
