import type { Gap } from '../facts/gap.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { NodeSurvey, PortSurvey } from '../facts/survey.ts';
import type { ArrivingDevice } from './types.ts';

/** What a port tells of the link at it: another cord or another partner gives other values. */
export const factsOfTheLink = [
  'operUp',
  'linkText',
  'speedMbps',
  'duplex',
  'partnerModes',
  'partnerAutoNegotiation',
  'mediaText',
  'phyText',
  'rxPowerDbm',
  'pauseRx',
  'pauseTx',
  'eeeActive',
  'fecText',
  'spanningTree',
  'aggregatorId',
  'lacpActor',
  'lacpPartner',
  'lacpPartnerSystem',
] as const satisfies readonly (keyof PortReadFacts)[];

const afterCord: Gap = {
  reason: 'unasked',
  words: 'known only once the cord is in its new place',
  cause: 'cords that the change moves',
};

/** A survey of a node at whose ports cords are moved: what those told of their link is not known. */
export function withoutLinks(node: NodeSurvey, ports: ReadonlySet<string>): NodeSurvey {
  const { forwarding: _, neighbours, ...rest } = node;
  const heard = neighbours?.filter(({ port }) => !ports.has(port));
  return {
    ...rest,
    ...(heard === undefined ? {} : { neighbours: heard }),
    // Behind which port a station is heard may be another one on every switch.
    gaps: {
      ...node.gaps,
      ...(ports.size > 0 ? { neighbours: afterCord } : {}),
      forwarding: afterCord,
    },
    ports: node.ports.map((port) => (ports.has(port.name) ? forget(port, factsOfTheLink) : port)),
  };
}

function forget(port: PortSurvey, names: readonly (keyof PortReadFacts)[]): PortSurvey {
  const known = names.filter((name) => port.facts[name] !== undefined);
  const left = Object.entries(port.facts).filter(([name]) => !known.some((each) => each === name));
  const gaps = Object.fromEntries(known.map((name) => [name, afterCord]));
  return { ...port, facts: Object.fromEntries(left), gaps: { ...port.gaps, ...gaps } };
}

const afterDevice: Gap = {
  reason: 'unasked',
  words: 'known only once the new device is in its place',
  cause: 'devices that the change replaces',
};

/** What stays true of a port whose device is replaced: what the wiring and the owner make of it. */
const factsOfThePlace = ['kind', 'alias', 'lowerPorts', 'aggregate'] as const;

/** A survey of a node in the place of which another device is put. */
export function replaced(node: NodeSurvey, { mtuBytes, mtuMaxBytes }: ArrivingDevice): NodeSurvey {
  const { forwarding: _, neighbours: __, ...rest } = node;
  const facts = { systemKind: node.facts.systemKind, systemName: node.facts.systemName };
  const kept = Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined));
  const gone = Object.keys(node.facts).filter((name) => !(name in kept));
  return {
    ...rest,
    facts: kept,
    gaps: {
      ...node.gaps,
      ...Object.fromEntries(gone.map((name) => [name, afterDevice])),
      neighbours: afterDevice,
      forwarding: afterDevice,
    },
    ports: node.ports.map((port) => {
      const stays = factsOfThePlace.filter((name) => port.facts[name] !== undefined);
      const lost = Object.keys(port.facts).filter((name) => !stays.some((each) => each === name));
      return {
        name: port.name,
        facts: {
          ...Object.fromEntries(stays.map((name) => [name, port.facts[name]])),
          ...(mtuBytes === undefined ? {} : { mtuBytes }),
          ...(mtuMaxBytes === undefined ? {} : { mtuMaxBytes }),
        },
        gaps: Object.fromEntries(
          lost
            .filter((name) => name !== 'mtuBytes' || mtuBytes === undefined)
            .map((name) => [name, afterDevice]),
        ),
      };
    }),
  };
}
