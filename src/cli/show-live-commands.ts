import { objectText } from '../collect/snmp/snmp-object.ts';
import { clockObject, lookObjects, mediumObjects, nameObjects } from '../probe/live-objects.ts';
import { liveCommands } from '../probe/live-script.ts';
import { clean } from '../report/layout.ts';
import type { Io } from './io.ts';
import type { LiveNode } from './live-targets.ts';
import { doorWords } from './show-commands.ts';

/** Prints every address, command and object that watching would use. Sends nothing. */
export function showLiveCommands(nodes: readonly LiveNode[], io: Io): number {
  const used = new Set(nodes.flatMap(({ access }) => (access === undefined ? [] : [access.via])));
  const lines = [
    ...nodes.map(doorLine),
    ...(used.has('local') || used.has('ssh') ? hostLines() : []),
    ...(used.has('snmp') ? agentLines() : []),
    '',
    'nothing was sent',
  ];
  io.stdout.write(`${lines.join('\n')}\n`);
  return 0;
}

function doorLine({ name, access, declared, ports }: LiveNode): string {
  const own = ports.map((port) => port.name).join(', ');
  if (access === undefined) return clean(`${name}: nobody can log in to it; not watched: ${own}`);
  return clean(`${doorWords(declared ?? { name }, access)}; ports ${own}`);
}

function hostLines(): readonly string[] {
  return [
    '',
    'each host is sent one script on the standard input of `sh -s`; it looks once a second, and ends with its input; it can run:',
    ...liveCommands
      .map(({ command, on, reads }) => {
        return clean(`${command}  (${on === 'all' ? 'all systems' : on}: ${reads})`);
      })
      .map((line) => `  ${line}`),
  ];
}

function agentLines(): readonly string[] {
  return [
    '',
    'each agent is asked, by GET, GETNEXT and GETBULK only:',
    '  once, to find the ports:',
    ...Object.values(nameObjects).map((asked) => `    ${objectText(asked)}`),
    '  once a second, of the ports that are watched:',
    ...[clockObject, ...Object.values(lookObjects), ...Object.values(mediumObjects)].map(
      (asked) => `    ${objectText(asked)}`,
    ),
  ];
}
