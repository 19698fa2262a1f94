import { type Framed, sectionKey, sectionsOf } from './frames.ts';
import { type IfconfigLinux, parseIfconfigLinux } from './ifconfig-linux.ts';
import { type ProcBond, parseProcBonding } from './proc-bonding.ts';
import { type ProcVlan, parseProcVlan } from './proc-vlan.ts';

/** What the kernel lists under /proc, and `ifconfig` where there is no `ip`. */
export interface Proc {
  readonly vlans: ReadonlyMap<string, ProcVlan>;
  readonly bonds: ReadonlyMap<string, ProcBond>;
  readonly ifconfig: ReadonlyMap<string, IfconfigLinux>;
}

/** Reads them all; a part that was not printed is empty. */
export function procOf(framed: Framed): Proc {
  const bonds = sectionsOf(framed, 'bonding').flatMap(({ about, output }) => {
    const bond = parseProcBonding(output);
    return bond === undefined ? [] : [[about, bond] as const];
  });
  const ifconfig = framed.sections.get(sectionKey('ifconfig'));
  const listed = ifconfig?.status === 0 ? parseIfconfigLinux(ifconfig.output) : [];
  return {
    vlans: parseProcVlan(framed.sections.get(sectionKey('vlans'))?.output ?? ''),
    bonds: new Map(bonds),
    ifconfig: wholeNames(
      listed,
      sectionsOf(framed, 'sysfs').map(({ about }) => about),
    ),
  };
}

/**
 * Ports by their whole names. Old net-tools print nine characters of a name: it is completed where
 * `/sys` has one port of that beginning, and left out where it has several.
 */
function wholeNames(
  listed: readonly IfconfigLinux[],
  bySysfs: readonly string[],
): ReadonlyMap<string, IfconfigLinux> {
  const named = new Map<string, IfconfigLinux>();
  for (const port of listed) {
    const cut = port.name.length === 9 && bySysfs.length > 0 && !bySysfs.includes(port.name);
    const meant = cut ? bySysfs.filter((name) => name.startsWith(port.name)) : [port.name];
    const [name] = meant;
    if (name !== undefined && meant.length === 1) named.set(name, port);
  }
  return named;
}
