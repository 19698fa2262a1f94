import { parseAddress } from './address.ts';
import type { AccessByName } from './build-access.ts';
import { placeText, quoted } from './fault.ts';
import { faultsMax } from './limits.ts';
import { wordRemedy } from './nearest.ts';
import type { NodeText } from './node-schema.ts';
import { listOf } from './schema-parts.ts';
import type { Entry, Section } from './sections.ts';
import { entryPlace, spotAt } from './spot.ts';
import type { Access, DeclaredNode, DeclaredPort, InputFault, UnreadKind } from './types.ts';

const passingKinds: ReadonlySet<UnreadKind> = new Set(['switch', 'converter', 'radio', 'dock']);

/** Builds the nodes whose entries are valid. */
export function buildNodes(
  section: Section<NodeText>,
  access: AccessByName,
  faults: InputFault[],
): readonly DeclaredNode[] {
  return section.entries.map((entry) => nodeOf(entry, access, faults));
}

function nodeOf(entry: Entry<NodeText>, known: AccessByName, faults: InputFault[]): DeclaredNode {
  const { key, value, spot } = entry;
  const { frame, unread } = value;
  const access = unread === undefined ? accessOf(entry, known, faults) : [];
  return {
    name: key,
    place: entryPlace(spot),
    ...addressOf(value.at),
    access,
    ...(value.reach === undefined ? {} : { reach: value.reach }),
    role: value.role ?? defaultRole(access, unread),
    ...(unread === undefined ? {} : { unread }),
    ...(frame === undefined ? {} : { frameBytes: frame }),
    sleeps: value.sleeps ?? false,
    mayBeAbsent: value.mayBeAbsent ?? false,
    routes: value.routes ?? false,
    mtuCounts: mtuCountsOf(value.mtuCounts),
    ...(value.mtuChange === undefined ? {} : { mtuChange: value.mtuChange }),
    ...(value.osAtLeast === undefined ? {} : { osAtLeast: value.osAtLeast }),
    believe: value.believe ?? [],
    identity: identityOf(value.identity),
    ports: portsOf(entry, faults),
  };
}

function addressOf(text: string | undefined): Pick<DeclaredNode, 'at' | 'atPort'> {
  const address = text === undefined ? undefined : parseAddress(text);
  if (address === undefined) return {};
  const { host, port } = address;
  return { at: host, ...(port === undefined ? {} : { atPort: port }) };
}

function accessOf(
  { value, spot }: Entry<NodeText>,
  known: AccessByName,
  faults: InputFault[],
): readonly Access[] {
  return listOf(value.access ?? 'ssh').flatMap((name, i) => {
    const accesses = known.byName.get(name);
    if (accesses === undefined && known.complete && !known.names.has(name)) {
      const place = spotAt(spot, ['access', i]).value;
      // As in checkName: no search for the nearest word beyond what is shown.
      const valid = faults.length > faultsMax ? [] : [...known.names];
      const remedy = wordRemedy(name, valid, valid.length > 12 ? 'declare it' : undefined);
      faults.push({ place, what: 'no access has this name', seen: quoted(name), remedy });
    }
    return accesses ?? [];
  });
}

function defaultRole(access: readonly Access[], unread: UnreadKind | undefined): 'host' | 'switch' {
  if (unread !== undefined) return passingKinds.has(unread) ? 'switch' : 'host';
  const allSnmp = access.length > 0 && access.every(({ via }) => via === 'snmp');
  return allSnmp ? 'switch' : 'host';
}

function mtuCountsOf(counts: NodeText['mtuCounts']): DeclaredNode['mtuCounts'] {
  if (typeof counts !== 'string') return counts ?? {};
  return { port: counts, vlan: counts, bridge: counts, bond: counts };
}

function identityOf(identity: NodeText['identity']): DeclaredNode['identity'] {
  const { engineId, sysObjectId, ...rest } = identity ?? {};
  return {
    ...rest,
    ...(engineId === undefined ? {} : { engineId: hexOf(engineId) }),
    ...(sysObjectId === undefined ? {} : { sysObjectId: sysObjectId.replace(/^\./, '') }),
  };
}

function hexOf(engineId: string): string {
  return engineId.replace(/^0x|[: ]/g, '').toLowerCase();
}

function portsOf({ value, spot }: Entry<NodeText>, faults: InputFault[]): readonly DeclaredPort[] {
  const ports = Object.entries(value.ports ?? {}).map(([alias, port]): DeclaredPort => {
    const place = entryPlace(spotAt(spot, ['ports', alias]));
    if (typeof port === 'string') return { alias, place, name: port };
    const { name, mac, driverAtLeast, behind, bus } = port;
    return {
      alias,
      place,
      ...(name === undefined ? {} : { name }),
      ...(mac === undefined ? {} : { mac: mac.toLowerCase().replaceAll('-', ':') }),
      ...(driverAtLeast === undefined ? {} : { driverAtLeast }),
      ...(behind === undefined ? {} : { behind }),
      ...(bus === undefined ? {} : { busText: bus }),
    };
  });
  checkPorts(ports, faults);
  return ports;
}

function checkPorts(ports: readonly DeclaredPort[], faults: InputFault[]): void {
  const first = new Map<string, DeclaredPort>();
  for (const port of ports) {
    const marks = [
      `name ${port.name ?? port.alias}`,
      port.mac === undefined ? '' : `mac ${port.mac}`,
    ];
    const twin = marks.map((mark) => first.get(mark)).find((other) => other !== undefined);
    if (twin !== undefined) {
      const what = `${quoted(port.alias)} and ${quoted(twin.alias)} are names of one port`;
      const seen = `first at ${placeText(twin.place)}`;
      faults.push({ place: port.place, what, seen, remedy: 'leave one name' });
    }
    for (const mark of marks) if (mark !== '') first.set(mark, first.get(mark) ?? port);
  }
}
