import type { KeptResult } from '../drift/kept-result.ts';
import type { Night } from '../drift/night.ts';
import type { Database } from './database.ts';
import { siteIdOf, text } from './read-past.ts';
import { isLost } from './server-fault.ts';
import { StoreFault } from './store-fault.ts';
import { writeNight } from './write-night.ts';

/** What the store had of a site when a run began. */
export interface Held {
  /** Number of the newest audit; 0: none. */
  readonly auditId: number;
  /** Session in which the run took its lock; absent: a file, whose lock cannot be lost. */
  readonly session?: number;
}

/** Remembers what the store has of a site, for `keepNight`. */
export async function heldNow(database: Database, site: string): Promise<Held> {
  const { auditId } = await newest(database, site);
  const session = database.shared?.session();
  return session === undefined ? { auditId } : { auditId, session };
}

/**
 * Writes a night. Where the session with the server was lost since the run began, it looks what was
 * kept meanwhile: this night itself (the answer was lost, not the night), one of another run (then
 * this one is refused), or nothing. A night is written once or not at all.
 */
export async function keepNight(
  database: Database,
  held: Held,
  { night, result }: { readonly night: Night; readonly result?: KeptResult },
): Promise<void> {
  try {
    // Asking for anything begins a new session where the one before is over.
    if (held.session !== undefined && (await isKept(database, held, night))) return;
    await writeNight(database, night, result);
  } catch (error) {
    if (database.shared === undefined || !isLost(error)) throw error;
    if (await isKept(database, held, night)) return;
    await writeNight(database, night, result);
  }
}

async function isKept(database: Database, { auditId }: Held, night: Night): Promise<boolean> {
  const last = await newest(database, night.site);
  if (last.auditId === auditId) return false;
  if (last.startedAt === night.startedAt && last.endedAt === night.endedAt) return true;
  throw new StoreFault(
    'locked',
    'another audit was kept while this one ran, since the connection to the server was lost; run this again',
  );
}

interface Newest {
  readonly auditId: number;
  readonly startedAt?: string;
  readonly endedAt?: string;
}

async function newest(database: Database, site: string): Promise<Newest> {
  const siteId = await siteIdOf(database, site);
  if (siteId === undefined) return { auditId: 0 };
  const [row] = await database.all(
    'select audit_id, started_at, ended_at from audit where site_id = $1 order by audit_id desc limit 1',
    [siteId],
  );
  if (row === undefined) return { auditId: 0 };
  return {
    auditId: Number(row['audit_id']),
    startedAt: text(row, 'started_at'),
    endedAt: text(row, 'ended_at'),
  };
}
