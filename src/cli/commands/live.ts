import { setMaxListeners } from 'node:events';
import { type Limited, withinTime } from '../../collect/within-time.ts';
import type { Intent } from '../../intent/types.ts';
import { keepWatching } from '../../probe/keep-watching.ts';
import { liveMsMax, lookEveryMs } from '../../probe/live-types.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { clean } from '../../report/layout.ts';
import { liveSummary } from '../../report/live-text.ts';
import { clockWords } from '../../report/live-words.ts';
import { ageMs } from '../ages.ts';
import type { Io } from '../io.ts';
import { liveBook } from '../live-book.ts';
import { connectLive } from '../live-connect.ts';
import { liveOutlet } from '../live-outlet.ts';
import { here, type LiveNode, liveNodes } from '../live-targets.ts';
import { requireIntent } from '../load-inputs.ts';
import { sshDepsOf } from '../node-reader.ts';
import type { LiveOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { showLiveCommands } from '../show-live-commands.ts';

/**
 * Watches ports while somebody moves a cord, and tells each change. It judges nothing: its status
 * is 0, or 2 where no port could be looked at.
 */
export async function live(
  targets: readonly string[],
  options: LiveOptions,
  io: Io,
): Promise<number> {
  const forMs = ageMs('--for', options.for, '90s, 30m or 8h');
  if (forMs > liveMsMax)
    throw new RunFault(exitStatuses.usage, ['--for: a day is the most; write 1h']);
  const intent = await intentFor(targets, options, io);
  const nodes = liveNodes(targets, intent, options.oneEnd === true);
  if (options.showCommands === true) return showLiveCommands(nodes, io);
  const begunMs = io.now().getTime();
  const untilMs = begunMs + forMs;
  const end = endOf(io, forMs);
  const book = liveBook(nodes);
  const outlet = liveOutlet(io, {
    format: options.format,
    bell: options.bell === true,
    board: () => ({ ports: book.ports(), nowMs: io.now().getTime(), untilMs }),
  });
  if (options.quiet !== true) announce(nodes, untilMs, io);
  const ssh = sshDepsOf(io);
  const clock = setInterval(outlet.draw, lookEveryMs);
  try {
    await Promise.all(
      nodes.map((node) =>
        keepWatching({
          connect: (signal) => connectLive(node, { io, ssh, untilMs }, signal),
          onEvent: (event) => outlet.tell(book.take(node, event)),
          signal: end.signal,
          now: io.now,
        }),
      ),
    );
  } finally {
    end.clear();
    clearInterval(clock);
    ssh.jumps.close();
  }
  const seconds = Math.round((io.now().getTime() - begunMs) / 1000);
  outlet.end(liveSummary(book.ports(), { seconds, ended: endWords(io, untilMs) }));
  return book.looked() || io.signal.aborted ? exitStatuses.met : exitStatuses.undetermined;
}

/** What ends a run: its time, the operator, or a reader that has gone away. */
function endOf({ signal, stdout }: Io, forMs: number): Limited {
  const end = withinTime(forMs, signal, ...(stdout.gone === undefined ? [] : [stdout.gone]));
  // Every connection and every wait listens to it.
  setMaxListeners(0, end.signal);
  return end;
}

function endWords({ signal, now }: Io, untilMs: number): string {
  if (signal.aborted) return 'stopped';
  return now().getTime() >= untilMs - lookEveryMs ? 'time over' : 'nothing is left to watch';
}

/** The intent, unless every target is of this machine. */
async function intentFor(
  targets: readonly string[],
  { intent }: LiveOptions,
  io: Io,
): Promise<Intent | undefined> {
  const own = targets.every((target) => target === here || target.startsWith(`${here}:`));
  return own && intent === undefined ? undefined : requireIntent(intent, io);
}

function announce(nodes: readonly LiveNode[], untilMs: number, io: Io): void {
  const ids = nodes.flatMap(({ ports }) => ports.map(({ id }) => id));
  const day = new Date(untilMs).toISOString().slice(0, 10);
  const words = `watching ${ids.join(', ')} until ${day} ${clockWords(untilMs)} UTC; times are UTC; Ctrl-C ends it`;
  const doubts = nodes.flatMap(({ ports }) =>
    ports.flatMap(({ id, meant }) =>
      meant === undefined ? [] : [`${id} is not in the intent; if it is a slip, write '${meant}'`],
    ),
  );
  io.stderr.write([words, ...doubts].map((line) => `${clean(line)}\n`).join(''));
}
