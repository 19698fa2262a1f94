import { cleanText } from '../facts/clean-text.ts';
import type { PortSurvey } from '../facts/survey.ts';
import type { End, Machine } from './types.ts';

/** Longest `node:port`, and longest name of a port, that an intent takes. */
const endLengthMax = 200;
const portLengthMax = 128;

/** An end as an intent writes it. */
export function endText({ machine, port }: End): string {
  return `${machine.name}:${port.name}`;
}

/** An end for a comment, with the device's text cut to what one reads. */
export function endWords({ machine, port }: End): string {
  return `${machine.name}:${cleanText(port.name, 60)}`;
}

/** Whether a port can be named in an intent at all: its name is the device's own text. */
export function canBeNamed(end: End): boolean {
  const { name } = end.port;
  return (
    name.length > 0 &&
    name.length <= portLengthMax &&
    endText(end).length <= endLengthMax &&
    cleanText(name, name.length) === name
  );
}

/** Whether a run can be plugged into it: no layer on top of others. */
export function takesACord({ facts }: PortSurvey): boolean {
  const { kind } = facts;
  return kind === undefined || kind === 'physical';
}

/** Whether an interface stands on something that leads out of its machine. */
export function leadsOut(machine: Machine, iface: PortSurvey): boolean {
  return below(machine, iface.name).some(({ facts }) => {
    return facts.kind === 'physical' || facts.kind === 'wireless';
  });
}

/** An interface and all that it is built on, each once. */
export function below(machine: Machine, name: string): readonly PortSurvey[] {
  const names = new Set([name]);
  for (const each of names) {
    for (const lower of machine.ports.get(each)?.facts.lowerPorts ?? []) names.add(lower);
  }
  return [...names].flatMap((each) => machine.ports.get(each) ?? []);
}

/** An interface above a port, and the VLAN whose frames reach it; absent: those without a tag. */
export interface Above {
  readonly iface: PortSurvey;
  readonly vlan?: number;
}

/** A port itself and the interfaces built on it, with the VLAN that leads there. */
export function above(machine: Machine, port: PortSurvey): readonly Above[] {
  const found: Above[] = [{ iface: port }];
  const seen = new Set([port.name]);
  for (const { iface, vlan } of found) {
    for (const name of machine.uppers.get(iface.name) ?? []) {
      const upper = machine.ports.get(name);
      if (upper === undefined || seen.has(name)) continue;
      seen.add(name);
      const tag = upper.facts.kind === 'vlan' ? upper.facts.vlanId : undefined;
      // A VLAN in a VLAN, or one without its number, says nothing of the tag on the wire.
      if (upper.facts.kind === 'vlan' && (tag === undefined || vlan !== undefined)) continue;
      const at = tag ?? vlan;
      found.push({ iface: upper, ...(at === undefined ? {} : { vlan: at }) });
    }
  }
  return found;
}
