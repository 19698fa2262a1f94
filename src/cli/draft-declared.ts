import type { DraftSubject } from '../draft/types.ts';
import type { Survey } from '../facts/survey.ts';
import type { Access, DeclaredNode, Intent } from '../intent/types.ts';
import { exitStatuses } from '../report/exit-status.ts';
import type { AccessByName, Door } from './draft-doors.ts';
import { RunFault } from './run-fault.ts';

/** With an intent its own nodes are read too: a link has two ends. */
export function intentDoors(intent: Intent | undefined): readonly Door[] {
  return (intent?.nodes ?? []).filter(({ access }) => access.length > 0).map(doorOfNode);
}

/** An address that the intent has already, or that is named twice, is read once. */
export function eachOnce(doors: readonly Door[]): readonly Door[] {
  return [...new Map([...doors].reverse().map((door) => [door.at ?? '', door])).values()].reverse();
}

/** The door of a declared node; without an address that of this machine. */
export function doorOfNode({ at, atPort, access }: DeclaredNode): Door {
  if (at === undefined) return { access };
  const host = at.includes(':') && atPort !== undefined ? `[${at}]` : at;
  return { at: atPort === undefined ? at : `${host}:${atPort}`, access };
}

/** Nodes of a saved survey keep their names; how an agent was asked must be given again. */
export function savedSubjects(
  survey: Survey,
  byName: AccessByName,
  intent: Intent | undefined,
): readonly DraftSubject[] {
  const declared = new Map(intent?.nodes.map((node) => [node.name, node]));
  return survey.nodes.map((node) => {
    const known = declared.get(node.node);
    const [first] = node.readings;
    const at = known === undefined ? first?.at : doorOfNode(known).at;
    const local = first?.by === 'local';
    return {
      survey: node,
      name: node.node,
      access: known?.access ?? node.readings.flatMap(({ by }) => accessBy(by, byName)),
      ...(at === undefined || local ? {} : { at }),
    };
  });
}

function accessBy(by: 'ssh' | 'snmp' | 'local', byName: AccessByName): readonly Access[] {
  const fitting = [...byName.values()].flat().filter(({ via }) => via === by);
  const chosen = fitting.find(({ name }) => name !== 'ssh') ?? fitting[0];
  if (chosen !== undefined) return [chosen];
  throw new RunFault(exitStatuses.usage, [
    'the survey has nodes that were asked over SNMP, and how is not in it: give --access FILE or --snmp-user NAME',
  ]);
}
