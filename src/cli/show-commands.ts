import type { PlannedNode, SurveyPlan } from '../collect/plan.ts';
import type { Access } from '../intent/types.ts';
import { clean } from '../report/layout.ts';
import type { Io } from './io.ts';

/**
 * Prints every address, command and object that a reading would use, and in `more` what is sent
 * besides. Sends nothing.
 */
export async function showCommands(
  plan: SurveyPlan,
  io: Io,
  more: readonly string[] = [],
): Promise<number> {
  const { unixCommands } = await import('../collect/unix/unix-commands.ts');
  const { windowsCommands } = await import('../collect/windows/windows-commands.ts');
  const { snmpRequests } = await import('../collect/snmp/snmp-requests.ts');
  const { objectText } = await import('../collect/snmp/snmp-object.ts');
  const used = new Set(plan.nodes.flatMap(({ access }) => access.map(({ via }) => via)));
  const systems = new Set(
    plan.nodes.flatMap(({ access }) => access.flatMap((one) => systemsOf(one))),
  );
  const lines = [
    ...plan.nodes.flatMap((node) => node.access.map((access) => doorWords(node, access))),
    ...(systems.has('unix')
      ? [
          '',
          'each host is sent one script on the standard input of `sh -s`; the script can run:',
          ...unixCommands
            .map(({ command, on, reads }) =>
              clean(`  ${command}  (${on === 'all' ? 'all systems' : on}: ${reads})`),
            )
            .map((line) => `  ${line}`),
        ]
      : []),
    ...(systems.has('windows')
      ? [
          '',
          'a Windows host is sent one script on the standard input of `powershell -NoProfile -NonInteractive -Command -`; the script can use:',
          ...windowsCommands.map(({ command, reads }) => clean(`  ${command}  (${reads})`)),
        ].map((line, at) => (at < 2 ? line : `  ${line}`))
      : []),
    ...(used.has('snmp')
      ? [
          '',
          'each agent is asked, by GET, GETNEXT and GETBULK only:',
          ...snmpRequests().flatMap(({ topics, objects }) => [
            topics === undefined ? '  always:' : `  for ${topics.join(', ')}:`,
            ...objects.map((asked) => `    ${objectText(asked)}`),
          ]),
        ]
      : []),
    ...more,
    '',
    'nothing was sent',
  ];
  io.stdout.write(`${lines.join('\n')}\n`);
  return 0;
}

/** Which script an access may be sent; which of the two a host is sent, its server tells. */
function systemsOf(access: Access): readonly ('unix' | 'windows')[] {
  if (access.via === 'local') return ['unix'];
  if (access.via === 'snmp') return [];
  return access.system === undefined ? ['unix', 'windows'] : [access.system];
}

/** How a node is reached by one access, as one line. */
export function doorWords(
  node: Pick<PlannedNode, 'name' | 'at' | 'atPort'>,
  access: Access,
): string {
  const at = node.at ?? 'this machine';
  const port = access.via === 'local' ? undefined : (access.port ?? node.atPort);
  const where = port === undefined ? at : `${at} port ${port}`;
  if (access.via === 'local') return clean(`${node.name}: this machine, by sh -s`);
  if (access.via === 'ssh') {
    const user = access.user === undefined ? '' : ` as ${access.user}`;
    const jump = access.jump === undefined ? '' : ` through ${access.jump}`;
    return clean(`${node.name}: SSH to ${where}${user}${jump}`);
  }
  const who = access.version === '3' ? `3 as ${access.user ?? ''}` : '2c';
  return clean(`${node.name}: SNMP version ${who}, to ${where}`);
}
