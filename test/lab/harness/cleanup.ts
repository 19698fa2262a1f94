import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const prefix = 'hopgauge-lab-';

/** When process `pid` started, in clock ticks since boot; undefined when there is none. */
function startTicks(pid: string): string | undefined {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    // The second field is the command in brackets and may hold blanks; the 22nd is the start.
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19];
  } catch {
    return undefined;
  }
}

/**
 * Makes the directory of one run of the lab. Its name holds the process id and its start, so that
 * a later run can tell whether its owner still lives.
 */
export function runDirectory(): string {
  const owner = `${process.pid}-${startTicks(String(process.pid)) ?? '0'}`;
  return mkdtempSync(join(tmpdir(), `${prefix}${owner}-`));
}

/** Removes the directories of runs whose process is gone; says which. */
export function sweepStaleRuns(): readonly string[] {
  const swept: string[] = [];
  for (const name of readdirSync(tmpdir())) {
    const [, pid, ticks] = /^hopgauge-lab-(\d+)-(\d+)-/.exec(name) ?? [];
    if (pid === undefined || startTicks(pid) === ticks) continue;
    rmSync(join(tmpdir(), name), { recursive: true, force: true });
    swept.push(name);
  }
  return swept;
}
