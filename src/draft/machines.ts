import { byName } from '../facts/order.ts';
import type { NodeSurvey, PortSurvey } from '../facts/survey.ts';
import { wasRead } from '../facts/was-read.ts';
import { parseAddress } from '../intent/address.ts';
import { type NameGiver, wishedName } from './names.ts';
import type { DraftSubject, Machine } from './types.ts';

/** The machines of a survey under their names, and what became of the rest. */
export interface Machines {
  readonly machines: readonly Machine[];
  readonly notRead: readonly DraftSubject[];
  /** Machines that were reached twice, with the one that stands for both. */
  readonly twins: readonly { readonly subject: DraftSubject; readonly of: Machine }[];
  /** Read, but where it is cannot be written. */
  readonly homeless: readonly DraftSubject[];
}

/** Sorts out which nodes were read, which are one and the same, and names them. */
export function findMachines(subjects: readonly DraftSubject[], names: NameGiver): Machines {
  const machines: Machine[] = [];
  const twins: { subject: DraftSubject; of: Machine }[] = [];
  const read = subjects.filter(({ survey }) => wasRead(survey));
  const placed = read.filter(isPlaced);
  // Names that must stay are taken before any other is given.
  const kept = new Map(
    placed.map((subject) => [
      subject,
      subject.name !== undefined && names.keep(subject.name) ? subject.name : undefined,
    ]),
  );
  for (const subject of placed) {
    const of = machines.find((known) => isSame(known.survey, subject.survey));
    if (of !== undefined) twins.push({ subject, of });
    else machines.push(machineOf(subject, kept.get(subject) ?? nameFor(subject, names)));
  }
  machines.sort((a, b) => byName(a.name, b.name));
  return {
    machines,
    twins,
    notRead: subjects.filter(({ survey }) => !wasRead(survey)),
    homeless: read.filter((subject) => !isPlaced(subject)),
  };
}

function isPlaced({ at, access }: DraftSubject): boolean {
  if (at !== undefined) return parseAddress(at) !== undefined;
  return access.length > 0 && access.every(({ via }) => via === 'local');
}

function nameFor({ survey, at, name }: DraftSubject, names: NameGiver): string {
  return names.give(name ?? wishedName(survey.facts.systemName, at));
}

function machineOf({ survey, at, access }: DraftSubject, name: string): Machine {
  const uppers = new Map<string, string[]>();
  for (const port of survey.ports) {
    for (const lower of port.facts.lowerPorts ?? []) {
      uppers.set(lower, [...(uppers.get(lower) ?? []), port.name]);
    }
  }
  return {
    name,
    ...(at === undefined ? {} : { at }),
    access,
    survey,
    isSwitch: access.length > 0 && access.every(({ via }) => via === 'snmp'),
    ports: new Map(survey.ports.map((port) => [port.name, port])),
    uppers,
  };
}

/** One MAC address may be copied, and one name given twice: it takes both, or an identity. */
function isSame(a: NodeSurvey, b: NodeSurvey): boolean {
  const macs = new Set(a.ports.flatMap(macsOf));
  if (!b.ports.some((port) => macsOf(port).some((mac) => macs.has(mac)))) return false;
  const [x, y] = [a.facts, b.facts];
  return (
    same(x.engineId, y.engineId) || same(x.hostKey, y.hostKey) || same(x.systemName, y.systemName)
  );
}

function same(a: string | undefined, b: string | undefined): boolean {
  return a !== undefined && a === b;
}

/** MAC addresses of a port. */
export function macsOf({ facts }: PortSurvey): readonly string[] {
  const { macAddress, permanentMacAddress } = facts;
  return [...new Set([macAddress, permanentMacAddress])].filter((mac) => mac !== undefined);
}
