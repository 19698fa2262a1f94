import type { Gap } from '../../facts/gap.ts';
import { type NodeReadFacts, nodeReadFacts } from '../../facts/node-facts.ts';
import type { Varbind } from './agent-session.ts';
import type { Asker } from './asker.ts';
import type { Failure } from './failure.ts';
import { scalars } from './objects.ts';
import { objectText } from './snmp-object.ts';
import { hexOf, identifierOf, integerOf, type Read, textOf, unsupported } from './values.ts';

/** sysUpTime counts hundredths of a second in 32 bits and starts anew after 497 days. */
const ticksPerSecond = 100;
const upTimeWrapSeconds = 2 ** 32 / ticksPerSecond;

/** What the system group tells of a node. */
export interface SystemReading {
  readonly facts: NodeReadFacts;
  readonly sources: Readonly<Record<string, string>>;
  readonly gaps: Readonly<Record<string, Gap>>;
  /** ifNumber; absent: not said. */
  readonly rowsHint?: number;
}

type Scalars = ReadonlyMap<string, Varbind | Failure>;

/** Asks for the scalars in one GET, in halves where the agent cannot do that. */
export async function askScalars(asker: Asker): Promise<Scalars | Failure> {
  const values = new Map<string, Varbind | Failure>();
  const left = [Object.values(scalars).map((scalar) => scalar.oid)];
  for (let part = left.pop(); part !== undefined; part = left.pop()) {
    const answer = await asker.get(part);
    if (answer.ok) {
      // By place, not by OID: a reply need not repeat the OIDs that it answers.
      for (const [i, oid] of part.entries()) {
        const varbind = answer.value[i];
        if (varbind?.oid === oid) values.set(oid, varbind);
      }
    } else if (!divisible.includes(answer.failure.kind)) {
      return answer.failure;
    } else if (part.length > 1) {
      left.push(part.slice(part.length / 2), part.slice(0, part.length / 2));
    } else if (part[0] !== undefined) {
      values.set(part[0], answer.failure);
    }
  }
  return [...values.values()].some((value) => 'oid' in value) ? values : nothing(values);
}

/** Failures for which one of several objects may be to blame. */
const divisible: readonly Failure['kind'][] = ['too-big', 'error-status', 'no-such-name'];

function nothing(values: Scalars): Failure {
  const failed = [...values.values()].find((value) => 'kind' in value);
  return failed ?? { kind: 'garbled', words: 'answered with other objects than were asked for' };
}

/** Facts of the node from its scalars. */
export function systemReading(values: Scalars): SystemReading {
  const facts: Record<string, string | number> = { systemKind: 'snmp' };
  const gaps: Record<string, Gap> = {};
  const sources: Record<string, string> = { systemKind: 'SNMP' };
  const put = (fact: string, source: string, read: Read<string | number>) => {
    if (read.gap !== undefined) gaps[fact] = read.gap;
    else {
      facts[fact] = read.value;
      sources[fact] = source;
    }
  };
  put('systemName', objectText(scalars.sysName), filled(read(values, 'sysName', textOf)));
  put('systemText', objectText(scalars.sysDescr), filled(read(values, 'sysDescr', textOf)));
  put('sysObjectId', objectText(scalars.sysObjectID), read(values, 'sysObjectID', identifierOf));
  put('engineId', objectText(scalars.snmpEngineID), filled(read(values, 'snmpEngineID', hexOf)));
  put('engineBoots', objectText(scalars.snmpEngineBoots), whole(values, 'snmpEngineBoots'));
  const up = upSeconds(values);
  put('uptimeSeconds', up.source, up.read);
  const rows = whole(values, 'ifNumber').value;
  return {
    facts,
    sources,
    gaps: { ...unaskedGaps(nodeReadFacts, facts, gaps), ...gaps },
    ...(rows === undefined ? {} : { rowsHint: rows }),
  };
}

/** A gap for each fact of a dictionary that is neither read nor given another gap. */
export function unaskedGaps(
  dictionary: Readonly<Record<string, unknown>>,
  ...known: readonly Readonly<Record<string, unknown>>[]
): Readonly<Record<string, Gap>> {
  const missing = Object.keys(dictionary).filter((name) =>
    known.every((facts) => !(name in facts)),
  );
  return Object.fromEntries(
    missing.map((name) => [name, { reason: 'unasked', words: 'not read over SNMP' } as const]),
  );
}

function upSeconds(values: Scalars): { source: string; read: Read<number> } {
  const engine = whole(values, 'snmpEngineTime');
  if (engine.value !== undefined && engine.value > upTimeWrapSeconds) {
    return { source: objectText(scalars.snmpEngineTime), read: engine };
  }
  const ticks = whole(values, 'sysUpTime');
  const read = ticks.gap ? ticks : { value: Math.floor(ticks.value / ticksPerSecond) };
  return { source: objectText(scalars.sysUpTime), read };
}

function whole(values: Scalars, name: keyof typeof scalars): Read<number> {
  return read(values, name, (varbind, what) => integerOf(varbind, what, [0, 4_294_967_295]));
}

function read<T>(
  values: Scalars,
  name: keyof typeof scalars,
  reader: (varbind: Varbind, what: string) => Read<T>,
): Read<T> {
  const value = values.get(scalars[name].oid);
  if (value === undefined) return { gap: unsupported(`${name} was left out of the answer`) };
  if ('kind' in value) return { gap: { reason: 'unreadable', words: `${name}: ${value.words}` } };
  if (isAbsent(value)) return { gap: unsupported(`the agent has no ${objectText(scalars[name])}`) };
  return reader(value, name);
}

function isAbsent(varbind: Varbind): boolean {
  // noSuchObject, noSuchInstance and endOfMibView are values in a reply, not errors (RFC 3416).
  return varbind.type === 128 || varbind.type === 129 || varbind.type === 130;
}

function filled(read: Read<string>): Read<string> {
  return read.value === '' ? { gap: unsupported('the agent gives an empty text') } : read;
}
