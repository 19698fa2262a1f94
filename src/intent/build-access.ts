import type { AccessText } from './access-schema.ts';
import { placeText, quoted } from './fault.ts';
import type { Entry, Section } from './sections.ts';
import { spotAt } from './spot.ts';
import type { Access, InputFault, SnmpAccess } from './types.ts';

/** What `access:` declares, with what is built in. */
export interface AccessByName {
  readonly byName: ReadonlyMap<string, readonly Access[]>;
  /** Also those at fault. */
  readonly names: ReadonlySet<string>;
  readonly complete: boolean;
}

const builtIn: ReadonlyMap<string, readonly Access[]> = new Map([
  ['ssh', [{ via: 'ssh', name: 'ssh' }]],
  ['local', [{ via: 'local', name: 'local' }]],
]);

/** Builds the accesses; `desWorks` says whether this Node can use DES. */
export function buildAccess(
  section: Section<AccessText>,
  faults: InputFault[],
  desWorks: boolean,
): AccessByName {
  checkNames(section, faults);
  const byName = new Map(builtIn);
  for (const entry of section.entries) {
    if (!desWorks) checkDes(entry, faults);
    if (!byName.has(entry.key)) byName.set(entry.key, accessesOf(entry));
  }
  const names = new Set([...builtIn.keys(), ...section.names.map(({ name }) => name)]);
  return { byName, names, complete: section.namesComplete };
}

function checkNames({ names }: Section<AccessText>, faults: InputFault[]): void {
  const first = new Map<string, string>();
  for (const { name, place } of names) {
    const before = first.get(name);
    if (builtIn.has(name)) {
      const what = 'an access of this name is built in';
      faults.push({ place, what, seen: quoted(name), remedy: 'give it another name' });
    } else if (before === undefined) first.set(name, `first at ${placeText(place)}`);
    else {
      const what = `access ${quoted(name)} is there twice`;
      faults.push({ place, what, seen: before, remedy: 'rename or remove one' });
    }
  }
}

function checkDes({ value, spot }: Entry<AccessText>, faults: InputFault[]): void {
  if (value.snmp?.version === '2c' || value.snmp?.privacy !== 'des') return;
  faults.push({
    place: spotAt(spot, ['snmp', 'privacy']).value,
    what: 'DES does not work here: the OpenSSL of this Node has it switched off',
    seen: "'des'",
    remedy: "set the user on the switch to AES and write 'aes128', or 'none'",
  });
}

// In the order in which they are written: that is the order to try.
function accessesOf({ key, value, spot }: Entry<AccessText>): readonly Access[] {
  const accesses: Access[] = [];
  for (const via of spot.children.keys()) {
    if (via === 'ssh' && value.ssh !== undefined) {
      accesses.push({ via: 'ssh', name: key, ...value.ssh });
    }
    if (via === 'snmp' && value.snmp !== undefined) accesses.push(snmpOf(key, value.snmp));
  }
  return accesses;
}

function snmpOf(name: string, text: NonNullable<AccessText['snmp']>): SnmpAccess {
  if (text.version === '2c') return { via: 'snmp', name, ...text };
  const { auth, privacy, version: _, ...rest } = text;
  return {
    via: 'snmp',
    name,
    version: '3',
    ...rest,
    ...(auth === 'none' ? {} : { auth }),
    ...(privacy === 'none' ? {} : { privacy }),
  };
}
