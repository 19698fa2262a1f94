import { byName } from '../facts/order.ts';
import type { PortSurvey } from '../facts/survey.ts';
import { canBeNamed, endText, endWords, takesACord } from './ends.ts';
import { ordered } from './lldp-links.ts';
import { macsOf } from './machines.ts';
import type { End, FoundLink, Machine } from './types.ts';
import type { Identifier } from './who-is-it.ts';

/** Several stations behind one port: something passes frames on that nobody reads. */
export interface Crowd {
  readonly at: End;
  /** Ports of known machines behind it. */
  readonly known: readonly End[];
  /** Stations that no machine owns to. */
  readonly unknownCount: number;
}

/** What the forwarding tables of the switches tell. */
export interface ForwardingLinks {
  readonly links: readonly FoundLink[];
  readonly crowds: readonly Crowd[];
  readonly questions: readonly string[];
}

/** What is behind one port of a switch. */
interface Behind {
  readonly at: End;
  readonly macs: ReadonlySet<string>;
}

/**
 * Finds which port of which switch a station is plugged into, where LLDP did not tell: the port
 * behind which it is heard alone, and behind which no other switch is.
 */
export function forwardingLinks(
  machines: readonly Machine[],
  who: Identifier,
  announced: ReadonlySet<string>,
): ForwardingLinks {
  const edges = machines
    .flatMap(behindPorts)
    .filter(({ at, macs }) => !announced.has(endText(at)) && !leadsToSwitch(at, macs, who));
  const claims: FoundLink[] = [];
  const crowds: Crowd[] = [];
  for (const { at, macs } of edges) {
    const known = stationsBehind(macs, who, announced);
    if (known.ends.length === 0) continue;
    const [first, more] = known.ends;
    if (first === undefined || more !== undefined || known.unknownCount > 0) {
      crowds.push({ at, known: known.ends, unknownCount: known.unknownCount });
      continue;
    }
    const mac = macsOf(first.port).find((each) => macs.has(each)) ?? '';
    const words = `MAC ${mac} in the forwarding table of ${at.machine.name}`;
    claims.push({ ends: ordered(first, at), known: words, by: 'forwarding' });
  }
  return { ...withoutRivals(claims), crowds };
}

function behindPorts(machine: Machine): readonly Behind[] {
  if (!machine.isSwitch) return [];
  const byPort = new Map<string, Set<string>>();
  for (const { port, macs } of machine.survey.forwarding ?? []) {
    const known = byPort.get(port) ?? new Set<string>();
    for (const mac of macs) known.add(mac);
    byPort.set(port, known);
  }
  return [...byPort]
    .sort(([a], [b]) => byName(a, b))
    .flatMap(([name, macs]) => {
      const port = machine.ports.get(name);
      if (port === undefined || !takesACord(port) || !canBeNamed({ machine, port })) return [];
      return [{ at: { machine, port }, macs }];
    });
}

function leadsToSwitch({ machine }: End, macs: ReadonlySet<string>, who: Identifier): boolean {
  return [...macs].some((mac) =>
    [...who.byMac(mac)].some((owner) => owner.isSwitch && owner !== machine),
  );
}

function stationsBehind(
  macs: ReadonlySet<string>,
  who: Identifier,
  announced: ReadonlySet<string>,
): { ends: readonly End[]; unknownCount: number } {
  const ends = new Map<string, End>();
  let unknownCount = 0;
  for (const mac of macs) {
    const owners = [...who.byMac(mac)];
    if (owners.length === 0) unknownCount += 1;
    for (const machine of owners) {
      const ports = machine.survey.ports.filter(
        (port) => isPlugged(port) && macsOf(port).includes(mac),
      );
      for (const port of ports) {
        const end = { machine, port };
        if (canBeNamed(end) && !announced.has(endText(end))) ends.set(endText(end), end);
      }
    }
  }
  return { ends: [...ends.values()], unknownCount };
}

function isPlugged(port: PortSurvey): boolean {
  return takesACord(port) && port.facts.kind === 'physical' && port.facts.operUp !== false;
}

/** A station that two switches each hear alone is behind one of them, and nothing says which. */
function withoutRivals(claims: readonly FoundLink[]): {
  links: readonly FoundLink[];
  questions: readonly string[];
} {
  const byEnd = new Map<string, FoundLink[]>();
  for (const claim of claims) {
    for (const end of claim.ends) {
      byEnd.set(endText(end), [...(byEnd.get(endText(end)) ?? []), claim]);
    }
  }
  const rivals = [...byEnd.values()].filter((found) => found.length > 1);
  const lost = new Set(rivals.flat());
  return {
    links: claims.filter((claim) => !lost.has(claim)),
    questions: rivals.map((found) => {
      const ends = found.flatMap((link) => link.ends).map(endWords);
      return `which of these is joined to which: ${[...new Set(ends)].join(', ')}?`;
    }),
  };
}
