import type { NodeSurvey, PortSurvey } from '../facts/survey.ts';
import type { KnownNode, PortChange } from './known-node.ts';

/** The ports of a node then and now. */
export interface MatchedPorts {
  readonly pairs: readonly { readonly before: PortSurvey; readonly after: PortSurvey }[];
  readonly changes: readonly PortChange[];
}

/** Kinds that come and go with guests and tunnels, and are nobody's news. */
const passing = new Set(['virtual', 'tunnel', 'loopback']);

/**
 * Matches ports by name; a physical one that is gone and a new one with its hardware address are
 * one port with another name. A list that was cut short tells nothing of what it lacks.
 */
export function matchPorts(known: KnownNode, now: NodeSurvey): MatchedPorts {
  const before = new Map(known.survey.ports.map((port) => [port.name, port]));
  const after = new Set(now.ports.map(({ name }) => name));
  const same = now.ports.flatMap((port) => {
    const was = before.get(port.name);
    return was === undefined ? [] : [{ before: was, after: port }];
  });
  const gone = known.survey.ports.filter(({ name }) => !after.has(name));
  const fresh = now.ports.filter(({ name }) => !before.has(name));
  const renamed = gone.flatMap((was) => {
    const [is, ...more] = fresh.filter((port) => sameHardware(was, port));
    return is === undefined || more.length > 0 ? [] : [{ before: was, after: is }];
  });
  const taken = new Set(renamed.flatMap((pair) => [pair.before, pair.after]));
  const whole = now.gaps['ports'] === undefined && known.survey.gaps['ports'] === undefined;
  const told = (port: PortSurvey) =>
    whole && !taken.has(port) && !passing.has(String(port.facts.kind));
  const of = { node: now.node, seenAt: known.seenAt };
  return {
    pairs: [...same, ...renamed],
    changes: [
      ...renamed.map((pair) => ({
        kind: 'port-renamed' as const,
        ...of,
        port: pair.before.name,
        to: pair.after.name,
      })),
      ...gone.filter(told).map(({ name }) => ({ kind: 'port-gone' as const, ...of, port: name })),
      ...fresh.filter(told).map(({ name }) => ({ kind: 'port-new' as const, ...of, port: name })),
    ],
  };
}

function sameHardware(a: PortSurvey, b: PortSurvey): boolean {
  const mac = hardwareAddress(a);
  return mac !== undefined && mac === hardwareAddress(b);
}

function hardwareAddress({ facts }: PortSurvey): string | undefined {
  if (facts.kind !== 'physical') return undefined;
  return facts.permanentMacAddress ?? facts.macAddress;
}
