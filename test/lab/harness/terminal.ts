import { join } from 'node:path';
import { commandLine } from './cli.ts';
import { until } from './command.ts';
import { inNs, mustInNs } from './namespaces.ts';
import { snmpSecrets } from './snmpd.ts';
import type { Topology } from './topology.ts';
import { auditorHome, setAuditorHome } from './users.ts';

/** hopgauge on a terminal of its own inside the auditor's machine, by tmux. */
export interface Terminal {
  /** What stands on the screen and above it, without colour. */
  readonly text: () => Promise<string>;
  readonly until: (what: string, pattern: RegExp) => Promise<string>;
  readonly press: (keys: string) => Promise<void>;
  readonly resize: (columns: number, rows: number) => Promise<void>;
  /** Number of the hopgauge process inside the machine. */
  readonly pid: () => Promise<number>;
  readonly close: () => Promise<void>;
}

/** Opens a terminal of 100 columns and runs hopgauge in it; its status stands on the last line. */
export async function openTerminal(
  topology: Topology,
  name: string,
  args: readonly string[],
): Promise<Terminal> {
  const home = auditorHome(topology);
  setAuditorHome(topology, home);
  const socket = join(topology.directory, `tmux-${name}`);
  const tmux = (...words: readonly string[]) => ['tmux', '-f', '/dev/null', '-S', socket, ...words];
  const quote = (word: string) => `'${word.replaceAll("'", "'\\''")}'`;
  const env = { HOME: home, LANG: 'C.UTF-8', PATH: process.env['PATH'] ?? '', ...snmpSecrets };
  const line = [...commandLine(), ...args].map(quote).join(' ');
  const shell = `${line}; echo "ended with $?"; exec sleep 600`;
  const start = tmux('new-session', '-d', '-x', '100', '-y', '24', '-s', name, shell);
  await mustInNs(topology.auditor, start, { env, cwd: topology.directory });
  const text = async () =>
    (await inNs(topology.auditor, tmux('capture-pane', '-p', '-J', '-S', '-200', '-t', name)))
      .stdout;
  return {
    text,
    until: async (what, pattern) => {
      let seen = '';
      try {
        await until(what, async () => {
          seen = await text();
          return pattern.test(seen);
        });
      } catch (error) {
        throw new Error(`lab: ${what}: not seen in:\n${seen}`, { cause: error });
      }
      return seen;
    },
    press: async (keys) => {
      await mustInNs(topology.auditor, tmux('send-keys', '-t', name, keys));
    },
    resize: async (columns, rows) => {
      const size = ['-x', String(columns), '-y', String(rows)];
      await mustInNs(topology.auditor, tmux('resize-window', '-t', name, ...size));
    },
    pid: async () => {
      const pane = ['list-panes', '-t', name, '-F', '#{pane_pid}'];
      const shellPid = (await mustInNs(topology.auditor, tmux(...pane))).trim();
      const children = `/proc/${shellPid}/task/${shellPid}/children`;
      return Number((await mustInNs(topology.auditor, ['cat', children])).trim().split(' ')[0]);
    },
    close: async () => {
      await inNs(topology.auditor, tmux('kill-server'));
    },
  };
}
