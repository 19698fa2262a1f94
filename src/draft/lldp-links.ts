import type { NeighbourReading, PortSurvey } from '../facts/survey.ts';
import { canBeNamed, endText, endWords, takesACord } from './ends.ts';
import type { End, FoundLink, Machine } from './types.ts';
import { type Identifier, portsMeant } from './who-is-it.ts';

/** One neighbour heard at a port. */
export interface Heard {
  readonly at: End;
  readonly reading: NeighbourReading;
}

/** What LLDP tells (IEEE 802.1AB). */
export interface LldpLinks {
  readonly links: readonly FoundLink[];
  /** Neighbours that were not read. */
  readonly strangers: readonly Heard[];
  /** What could not be told, in words. */
  readonly questions: readonly string[];
  /** Ports behind which something announces itself, by `node:port`. */
  readonly announced: ReadonlySet<string>;
}

/** A neighbour that was read, and the ports of it that may be meant. */
interface Claim extends Heard {
  readonly far: Machine;
  readonly ports: readonly PortSurvey[];
}

/** Joins the ports whose machines hear each other, or of which one hears the other. */
export function lldpLinks(machines: readonly Machine[], who: Identifier): LldpLinks {
  const heard = machines.flatMap(heardBy);
  const claims: Claim[] = [];
  const strangers: Heard[] = [];
  const questions: string[] = [];
  for (const each of heard) {
    const far = who.machineOf(each.reading);
    if (far === 'none') strangers.push(each);
    else if (far === 'doubtful')
      questions.push(
        `${endWords(each.at)}: the signs of what is heard there by LLDP point to several nodes`,
      );
    else if (far === each.at.machine)
      questions.push(`${endWords(each.at)} hears its own node by LLDP: is there a loop?`);
    else claims.push({ ...each, far, ports: portsMeant(far, each.reading) });
  }
  const { pairs, open } = pairUp(claims);
  for (const claim of open)
    questions.push(`${endWords(claim.at)} hears ${claim.far.name} by LLDP: by which port of it?`);
  const { links, crowded } = oneLinkPerPort(pairs, strangers);
  questions.push(...crowded);
  const announced = new Set(heard.map(({ at }) => endText(at)));
  for (const { ends } of links) for (const end of ends) announced.add(endText(end));
  return { links, strangers, questions: [...new Set(questions)], announced };
}

function heardBy(machine: Machine): readonly Heard[] {
  return (machine.survey.neighbours ?? []).flatMap((reading) => {
    const port = machine.ports.get(reading.port);
    if (port === undefined || !takesACord(port) || !canBeNamed({ machine, port })) return [];
    return [{ at: { machine, port }, reading }];
  });
}

function pairUp(claims: readonly Claim[]): { pairs: FoundLink[]; open: Claim[] } {
  const pairs = new Map<string, FoundLink>();
  const open: Claim[] = [];
  for (const claim of claims) {
    const end = farEnd(claim, claims);
    if (end === undefined) open.push(claim);
    else if (canBeNamed(end)) {
      const ends = ordered(claim.at, end);
      const key = ends.map(endText).join(' - ');
      const both = claims.some((other) => hears(other, end, claim.at));
      const known = both ? 'LLDP on both ends' : `LLDP on ${claim.at.machine.name} only`;
      if (!pairs.has(key)) pairs.set(key, { ends, known, by: 'lldp' });
    }
  }
  const joined = new Set([...pairs.values()].flatMap(({ ends }) => ends.map(endText)));
  return { pairs: [...pairs.values()], open: open.filter(({ at }) => !joined.has(endText(at))) };
}

/** The port that the neighbour names, else the one port of it that hears this machine. */
function farEnd(claim: Claim, claims: readonly Claim[]): End | undefined {
  const [only, more] = claim.ports;
  const { far } = claim;
  const back = claims.filter(
    (other) =>
      other.at.machine === far && other.far === claim.at.machine && mayMean(other, claim.at),
  );
  if (only !== undefined && more === undefined) return { machine: far, port: only };
  const fitting = back.filter(
    ({ at }) => claim.ports.length === 0 || claim.ports.includes(at.port),
  );
  const sure = fitting.filter(({ ports }) => ports.length === 1);
  const [chosen, another] = sure.length > 0 ? sure : fitting;
  if (chosen === undefined || another !== undefined) return undefined;
  // Where neither says which port it is, two links between the nodes could be crossed.
  const alike = claims.filter(
    ({ at, far: to }) => at.machine === claim.at.machine && to === far,
  ).length;
  return sure.length === 1 || alike === 1 ? chosen.at : undefined;
}

function mayMean({ ports }: Claim, { port }: End): boolean {
  return ports.length === 0 || ports.includes(port);
}

function hears(claim: Claim, from: End, to: End): boolean {
  return (
    claim.at.machine === from.machine &&
    claim.at.port === from.port &&
    claim.far === to.machine &&
    mayMean(claim, to)
  );
}

/** The end that counts as the client's first: hosts before switches, then by name. */
export function ordered(a: End, b: End): readonly [End, End] {
  const later = (end: End) => `${end.machine.isSwitch ? 1 : 0}${endText(end)}`;
  return later(a) <= later(b) ? [a, b] : [b, a];
}

/** A port takes one cord: where several are heard, something that passes LLDP on is between. */
function oneLinkPerPort(
  pairs: readonly FoundLink[],
  strangers: readonly Heard[],
): { links: FoundLink[]; crowded: string[] } {
  const uses = new Map<string, number>();
  const use = (end: End) => uses.set(endText(end), (uses.get(endText(end)) ?? 0) + 1);
  for (const { ends } of pairs) ends.forEach(use);
  for (const { at } of strangers) use(at);
  const isCrowded = (end: End) => (uses.get(endText(end)) ?? 0) > 1;
  const crowdedEnds = pairs.flatMap(({ ends }) => ends.filter(isCrowded));
  return {
    links: pairs.filter(({ ends }) => !ends.some(isCrowded)),
    crowded: crowdedEnds.map(
      (end) =>
        `several nodes are heard by LLDP at ${endWords(end)}: is there a switch between that nobody reads (unread: switch)?`,
    ),
  };
}
