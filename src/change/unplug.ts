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

/** What happens to a port: its cord is moved, or taken away, or the device at its link is replaced. */
export type Unplugged = 'cord' | 'freed' | 'device';

/**
 * A survey of a node at whose ports cords are moved: what those told of their link is not known, and
 * one that is left without a cord has none. `why`: what happens to the site at all.
 */
export function withoutLinks(
  node: NodeSurvey,
  ports: ReadonlyMap<string, Unplugged>,
  why: Unplugged,
): NodeSurvey {
  const { forwarding: _, neighbours, ...rest } = node;
  const gap = why === 'device' ? afterDevice : afterCord;
  const heard = neighbours?.filter(({ port }) => !ports.has(port));
  return {
    ...rest,
    ...(heard === undefined ? {} : { neighbours: heard }),
    // Behind which port a station is heard may be another one on every switch.
    gaps: {
      ...node.gaps,
      ...(ports.size > 0 ? { neighbours: gap } : {}),
      forwarding: gap,
    },
    ports: node.ports.map((port) => {
      const what = ports.get(port.name);
      return what === undefined ? port : unplugged(port, what, node);
    }),
  };
}

function unplugged(
  port: PortSurvey,
  what: Unplugged,
  { portGaps }: Pick<NodeSurvey, 'portGaps'>,
): PortSurvey {
  const isFreed = what === 'freed' && port.facts.operUp !== undefined;
  const known = factsOfTheLink.filter(
    (name) => port.facts[name] !== undefined && !(isFreed && name === 'operUp'),
  );
  // That a port had no link before is no reason of what is not known of it after.
  const wasDown = factsOfTheLink.filter(
    (name) =>
      port.facts[name] === undefined && (port.gaps?.[name] ?? portGaps[name])?.reason === 'down',
  );
  const left = Object.entries(port.facts).filter(([name]) => !known.some((each) => each === name));
  const gap = what === 'freed' ? noCord : what === 'cord' ? afterCord : afterDevice;
  return {
    ...port,
    facts: { ...Object.fromEntries(left), ...(isFreed ? { operUp: false } : {}) },
    gaps: {
      ...port.gaps,
      ...Object.fromEntries([...known, ...wasDown].map((name) => [name, gap])),
    },
  };
}

const noCord: Gap = {
  reason: 'down',
  words: 'its cord is taken away',
  cause: 'cords that the change moves',
};

const afterDevice: Gap = {
  reason: 'unasked',
  words: 'known only once the new device is in its place',
  cause: 'devices that the change replaces',
};

/** What stays true of a port whose device is replaced: what the wiring and the owner make of it. */
export const factsOfThePlace = ['kind', 'alias', 'lowerPorts', 'aggregate'] as const;

/** A survey of a node in the place of which another device is put. */
export function replaced(node: NodeSurvey, { mtuBytes }: ArrivingDevice): NodeSurvey {
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
