import type { Gap } from '../../facts/gap.ts';
import { byName } from '../../facts/order.ts';
import type { IpLink } from './ip-link.ts';
import { isGap } from './linux-evidence.ts';
import type { ProcBond } from './proc-bonding.ts';
import type { ProcVlan } from './proc-vlan.ts';
import type { Sysfs } from './sysfs.ts';

/** All that tells what a Linux port is built on. */
export interface LowerEvidence {
  readonly link: IpLink | undefined;
  /** Ports that `ip` names as what this one is built on. */
  readonly byIp: readonly string[];
  readonly sysfs: Sysfs | Gap;
  readonly vlan: ProcVlan | undefined;
  readonly bond: ProcBond | undefined;
}

/**
 * Ports that a port is built on, in order, as the system spells them. Where `ip` says of what
 * kind it is, `ip` is enough. Where it does not, as that of BusyBox, the name behind `@` of one
 * end of a veth is that of any port of this namespace that happens to have the number of the
 * other end; what is built on another port is then what `/sys` or `/proc` says as well.
 */
export function lowerPortsOfLinux(evidence: LowerEvidence): readonly string[] | Gap {
  const { link, byIp, sysfs, vlan, bond } = evidence;
  if (link?.infoKind !== undefined) return byIp;
  if (isGap(sysfs) && sysfs.reason === 'truncated') return sysfs;
  const known = [
    ...(isGap(sysfs) ? [] : sysfs.lower),
    ...(vlan === undefined ? [] : [vlan.lower]),
    ...(bond?.members ?? []).map(({ name }) => name),
  ];
  const bySysfs = !isGap(sysfs) && sysfs.deviceType === undefined;
  const sure = byIp.filter((name) => !bySysfs || name !== link?.lower || known.includes(name));
  return [...new Set([...sure, ...known])].sort(byName);
}
