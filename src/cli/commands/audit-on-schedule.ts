import { exitStatuses } from '../../report/exit-status.ts';
import { clean } from '../../report/layout.ts';
import { inStore, serverStore } from '../history-of.ts';
import type { Io } from '../io.ts';
import { requireIntent } from '../load-inputs.ts';
import type { AuditOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { collectorPatience } from '../server-patience.ts';
import { audit } from './audit.ts';

/**
 * Stays, and audits a site at times that the queue keeps, until it is stopped. An audit that fails is
 * told and is no end; the statuses of the audits are told, too.
 */
export async function auditOnSchedule(
  files: readonly string[],
  options: AuditOptions & { readonly cron: string },
  io: Io,
): Promise<number> {
  const { cron, ...each } = options;
  requireSense(files, options);
  const { site } = await requireIntent(files[0] ?? options.intent, io);
  const store = await serverStore(options.store ?? '', io);
  const [{ openServer }, { keepSchedule, NoTimes }] = await Promise.all([
    import('../../history/open-server.ts'),
    import('../../share/keep-schedule.ts'),
  ]);
  const turn = async () => {
    try {
      const status = await audit(files, each, io);
      io.stderr.write(`${clean(site)}: audited, ended with ${status}\n`);
    } catch (error) {
      if (!(error instanceof RunFault)) throw error;
      const lines = error.lines.map((line) => `${clean(site)}: ${clean(line)}\n`);
      io.stderr.write(lines.join(''));
    }
  };
  return inStore(store, async () => {
    const database = await openServer(store.place, store.askPassword, collectorPatience(io));
    try {
      const { timeZone } = new Intl.DateTimeFormat().resolvedOptions();
      const kept = () => {
        io.stderr.write(`${clean(site)}: waits for its times, ${clean(cron)} (${timeZone})\n`);
      };
      await keepSchedule(database, { site, cron, timeZone }, { kept, turn, stop: io.signal });
      return exitStatuses.met;
    } catch (error) {
      throw error instanceof NoTimes ? noTime(cron, error.message) : error;
    } finally {
      await database.close();
    }
  });
}

function requireSense(
  files: readonly string[],
  { cron, collect }: AuditOptions & { readonly cron: string },
): void {
  const usage = (line: string) => new RunFault(exitStatuses.usage, [line]);
  if (collect !== true)
    throw usage('--cron keeps its times in the queue of collectors; add --collect and --store');
  if (files.length > 1)
    throw usage('--cron is of one site; start it once for each intent, at times apart');
  const field = /^[0-9*/,-]+$/;
  const fields = cron.trim().split(/\s+/);
  if (fields.length !== 5 || !fields.every((each) => field.test(each))) throw noTime(cron);
}

function noTime(cron: string, seen?: string): RunFault {
  const why = seen === undefined ? '' : ` (${seen})`;
  return new RunFault(exitStatuses.usage, [
    clean(`--cron: '${cron.slice(0, 60)}' is no time${why}; write five fields, '0 2 * * *'`),
  ]);
}
