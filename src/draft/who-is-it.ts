import { cleanText } from '../facts/clean-text.ts';
import type { NeighbourReading, PortSurvey } from '../facts/survey.ts';
import { takesACord } from './ends.ts';
import { macsOf } from './machines.ts';
import type { Machine } from './types.ts';

/** Finds who a neighbour is among the machines that were read. */
export interface Identifier {
  /** The machine; `none`: it was not read; `doubtful`: its signs point to several. */
  readonly machineOf: (heard: NeighbourReading) => Machine | 'none' | 'doubtful';
  /** Machines with this MAC address. */
  readonly byMac: (mac: string) => ReadonlySet<Machine>;
}

/** Looks all signs up once. */
export function identifier(machines: readonly Machine[]): Identifier {
  const signs = new Map<string, Set<Machine>>();
  const add = (sign: string, machine: Machine) => {
    const known = signs.get(sign) ?? new Set();
    signs.set(sign, known.add(machine));
  };
  for (const machine of machines) for (const sign of signsOf(machine)) add(sign, machine);
  const none: ReadonlySet<Machine> = new Set();
  return {
    byMac: (mac) => signs.get(`mac ${mac}`) ?? none,
    machineOf: (heard) => {
      const found = signsHeard(heard).flatMap((sign) => signs.get(sign) ?? []);
      const [first, ...rest] = found;
      if (first === undefined) return 'none';
      const common = [...first].filter((machine) => rest.every((others) => others.has(machine)));
      const [only, more] = common;
      return only !== undefined && more === undefined ? only : 'doubtful';
    },
  };
}

function signsOf(machine: Machine): readonly string[] {
  const { survey, at } = machine;
  const name = survey.facts.systemName;
  return [
    ...survey.ports.flatMap(macsOf).map((mac) => `mac ${mac}`),
    ...(name === undefined ? [] : [nameSign(name)]),
    ...(at === undefined ? [] : [`address ${at.toLowerCase()}`]),
    ...survey.ports.flatMap(({ facts }) =>
      (facts.addresses ?? []).map((address) => `address ${address.replace(/\/.*$/, '')}`),
    ),
  ];
}

function signsHeard(heard: NeighbourReading): readonly string[] {
  const { chassis, chassisKind, portId, portIdKind, systemName, addresses } = heard;
  return [
    ...(portIdKind === 'mac' ? [`mac ${portId}`] : []),
    ...(chassisKind === 'mac' ? [`mac ${chassis}`] : []),
    ...(chassisKind === 'address' ? [`address ${chassis}`] : []),
    ...addresses.map((address) => `address ${address}`),
    ...(systemName === undefined ? [] : [nameSign(systemName)]),
  ];
}

/** A host may say its name with its domain in one place and without in another. */
function nameSign(name: string): string {
  return `name ${cleanText(name).toLowerCase().replace(/\..*$/, '')}`;
}

/** Ports of a machine that a neighbour's own words for its port may mean; empty: none is told. */
export function portsMeant(machine: Machine, heard: NeighbourReading): readonly PortSurvey[] {
  const ports = machine.survey.ports.filter(takesACord);
  const { portId, portIdKind, portText } = heard;
  if (portIdKind === 'mac') return byMac(ports, portId);
  const named = ports.filter(({ name }) => name === portId);
  if (named.length > 0) return named;
  const described = ports.filter(
    ({ facts }) => facts.alias !== undefined && facts.alias === portId,
  );
  if (described.length > 0) return described;
  return portText === undefined ? [] : ports.filter(({ name }) => name === portText);
}

/** Members of an aggregate share the address in use, so that the one burnt in goes before it. */
function byMac(ports: readonly PortSurvey[], mac: string): readonly PortSurvey[] {
  const burnt = ports.filter(({ facts }) => facts.permanentMacAddress === mac);
  return burnt.length > 0 ? burnt : ports.filter(({ facts }) => facts.macAddress === mac);
}
