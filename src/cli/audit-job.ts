import type { Patience } from '../history/open-server.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { redactResult } from '../report/redact.ts';
import type { AuditResult } from '../report/types.ts';
import type { Io } from './io.ts';
import type { AuditOptions } from './options.ts';
import { outletsOf } from './outlets.ts';
import { RunFault } from './run-fault.ts';
import { beginRun, type Deadline, runTimeOf } from './run-time.ts';
import { auditPatience } from './server-patience.ts';
import { readyOutlets, tellOutlets } from './tell-outlets.ts';

/** An audit that has begun. */
export interface AuditJob {
  readonly deadline?: Deadline;
  /** For a server of the history that is away when a site begins. */
  readonly patience: Patience;
  /** Tells the operator at once, also of one of several sites, which otherwise come in their order. */
  readonly say: (line: string) => void;
  /** Tells the outlets; gives the exit status. Never throws. */
  readonly tell: (result: AuditResult, status: number) => Promise<number>;
}

/**
 * Checks what the options say of time and outlets, and gives what begins the job: it finds what the
 * outlets need, starts the clock and waits out the spread.
 */
export function auditJob(options: AuditOptions, io: Io): () => Promise<AuditJob> {
  const time = runTimeOf(options.deadline, options.spread);
  const outlets = outletsOf(options);
  if (options.survey !== undefined && (options.deadline ?? options.spread) !== undefined) {
    throw new RunFault(exitStatuses.usage, [
      '--deadline and --spread are of a reading, and --survey reads nothing; leave them out',
    ]);
  }
  return async () => {
    const ready = await readyOutlets(outlets, io);
    const deadline = await beginRun(time, options.deadline ?? '', io);
    const signal = deadline?.whole ?? io.signal;
    return {
      ...(deadline === undefined ? {} : { deadline }),
      patience: auditPatience(io, deadline?.reading ?? io.signal),
      say: (line) => {
        io.stderr.write(`${line}\n`);
      },
      tell: (result, status) => {
        const shown = options.redact === true ? redactResult(result) : result;
        return tellOutlets(shown, { status, outlets: ready, signal }, io);
      },
    };
  };
}
