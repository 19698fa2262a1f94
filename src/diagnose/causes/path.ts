import { rateWords } from '../../ethernet/run-brake.ts';
import { sourceOf } from '../../facts/subject.ts';
import type { Site, SitePath } from '../../site/types.ts';
import type { CauseDraft } from '../cause.ts';
import { blockedWay } from './blocked-way.ts';
import { hopPacket } from './hop-packet.ts';
import { routeMtu, routerShrinks } from './route-packet.ts';

/** One rule for what only the whole path shows. */
export type PathRule = (site: Site, path: SitePath) => readonly CauseDraft[];

/** Traffic that leaves by a port that the intent does not name. */
export const wrongRoute: PathRule = (site, path) =>
  site.directions.flatMap(({ path: of, from, to, subject }) => {
    const { leavesBy, leavesByDeclaredPort, toAddress, declaredPorts } = subject.facts;
    if (of !== path.id || leavesByDeclaredPort !== false || typeof leavesBy !== 'string') return [];
    const source = sourceOf(subject, 'leavesBy');
    const doors = Array.isArray(declaredPorts) ? declaredPorts.join(' or ') : 'the declared port';
    return [
      {
        kind: 'wrong-route',
        proof: 'is',
        what: `the route of ${from}: its traffic to ${to} leaves by ${leavesBy}, not by ${doors}`,
        for: [
          {
            says: `${from} sends to ${String(toAddress ?? to)} by ${leavesBy}`,
            ...(source === undefined ? {} : { source }),
          },
          { says: `the intent declares ${doors}` },
        ],
        remedy: `give each port of ${from} a subnet of its own, mount by the address of the declared way, or change the order of services`,
        settledBy: `ask ${from} for its route to ${to} again after the change, and the other way round`,
      } satisfies CauseDraft,
    ];
  });

/** A hop that is known to be too small for the declared packet. */
export const smallPacket: PathRule = (_site, { subject }) => {
  const { carriesDeclaredMtu, narrowestPort, mtuAtMostBytes, declaredMtuBytes, portToRaise } =
    subject.facts;
  if (carriesDeclaredMtu !== false || typeof narrowestPort !== 'string') return [];
  return [
    {
      kind: 'small-packet',
      proof: 'is',
      what: `the packet size at ${String(portToRaise ?? narrowestPort)}: it passes ${String(mtuAtMostBytes)} of the declared ${String(declaredMtuBytes)} bytes`,
      for: [{ says: `${narrowestPort} passes at most ${String(mtuAtMostBytes)} bytes` }],
      remedy: `raise ${String(portToRaise ?? narrowestPort)}, switches before hosts`,
      settledBy: `hopgauge fit ${String(subject.facts['from'])} ${String(subject.facts['to'])}`,
    },
  ];
};

/** More is wanted of one flow than one member of an aggregate carries: that is how it works. */
export const oneFlow: PathRule = (site, path) => {
  const { goodputMbps } = path.declared;
  if (goodputMbps === undefined) return [];
  return aggregatesOn(site, path).flatMap(({ lag, count, memberMbps }) => {
    if (goodputMbps <= memberMbps || goodputMbps > count * memberMbps) return [];
    return [
      {
        kind: 'lag-one-flow',
        proof: 'is',
        fault: false,
        what: `no fault: one flow uses one member of the aggregate ${lag}, and no more than ${rateWords(memberMbps)}`,
        for: [
          { says: `${lag} has ${count} members of ${rateWords(memberMbps)}, all up` },
          {
            says: 'frames of one conversation keep to one member, so that their order is kept',
            source: 'IEEE 802.1AX',
          },
          { says: `the intent wants ${rateWords(goodputMbps)} on the path` },
        ],
        remedy: `declare the goodput of one member, use several flows, or faster ports`,
        settledBy: 'measure with as many flows as members',
      } satisfies CauseDraft,
    ];
  });
};

interface Aggregate {
  readonly lag: string;
  readonly count: number;
  readonly memberMbps: number;
}

/** Aggregates that the path crosses whose members are all up and of one speed. */
function aggregatesOn(site: Site, path: SitePath): readonly Aggregate[] {
  const ids = new Set(path.hops.flatMap(({ linkId }) => linkId ?? []));
  const lags = new Set(
    site.links.flatMap(({ declared }) => (ids.has(declared.id) ? (declared.lag ?? []) : [])),
  );
  return [...lags].flatMap((lag) => {
    const members = site.links.filter(({ declared }) => declared.lag === lag);
    const speeds = members.flatMap(({ ends }) =>
      ends.flatMap((e) => e.survey?.facts.speedMbps ?? []),
    );
    const [memberMbps] = speeds;
    const up = members.every(({ ends }) => ends.every((e) => e.survey?.facts.operUp !== false));
    const even = speeds.every((speed) => speed === memberMbps);
    if (memberMbps === undefined || members.length < 2 || !up || !even) return [];
    return [{ lag, count: members.length, memberMbps }];
  });
}

/** Every rule for what only a path shows. */
export const pathRules: Readonly<Record<string, PathRule>> = {
  wrongRoute,
  blockedWay,
  smallPacket,
  hopPacket,
  routeMtu,
  routerShrinks,
  oneFlow,
};
