import type { Gap } from '../../facts/gap.ts';
import { byName } from '../../facts/order.ts';
import { cleaned, found, foundOr, gap, type PortDraft, type Settled } from './draft.ts';
import { linuxBus } from './linux-bus.ts';
import { isGap, type LinuxEvidence } from './linux-evidence.ts';
import { orIfconfig } from './linux-ifconfig.ts';
import { linuxKind } from './linux-kind.ts';
import { type LinuxUppers, linuxLayers } from './linux-layers.ts';
import { linuxLine } from './linux-line.ts';
import { linuxPhysics } from './linux-physics.ts';
import type { Sysfs } from './sysfs.ts';
import { macText, mtuNumber, wholeNumber } from './text.ts';

/** All facts of one Linux port, each with its source, or its gap. */
export function linuxPort(evidence: LinuxEvidence, uppers: LinuxUppers): PortDraft {
  const { link, sysfs, driver, driverVersion } = evidence;
  const kind = linuxKind(evidence);
  const state = linuxState(evidence);
  const lineState = { kind: isGap(kind) ? undefined : kind.value, operUp: state.operUp };
  const file = (name: string) => sysfsFile(sysfs, name);
  const draft: PortDraft = {
    alias: aliasOf(evidence),
    kind,
    macAddress: macOf(evidence),
    permanentMacAddress: permanentMacOf(evidence, uppers),
    ifIndex: foundOr(link?.ifIndex, 'ip link', file('ifindex')),
    ifType: undefined,
    adminUp: state.adminUp,
    operUp: state.operUp,
    mtuBytes: foundOr(link?.mtuBytes, 'ip link', mtuFile(sysfs)),
    mtuMinBytes: mtuLimit(evidence, 'mtuMinBytes'),
    mtuMaxBytes: mtuLimit(evidence, 'mtuMaxBytes'),
    mtuConfiguredBytes: undefined,
    ...linuxLine(evidence, lineState),
    driver: driverFact(driver, sysfs),
    driverVersion: isGap(driverVersion)
      ? driverVersion
      : foundOr(cleaned(driverVersion), 'ethtool -i version', undefined),
    driverMtuBytes: undefined,
    carrierChanges: file('carrier_changes'),
    lowerPorts: lowerOf(evidence),
    vlanId: foundOr(
      link?.vlanId,
      'ip -d link linkinfo',
      foundOr(
        evidence.vlan?.id,
        '/proc/net/vlan/config',
        !isGap(kind) && kind.value === 'vlan' ? limitGap(evidence) : undefined,
      ),
    ),
    addresses: isGap(evidence.addresses)
      ? evidence.addresses
      : found(evidence.addresses, 'ip addr'),
    rxOctets: file('statistics/rx_bytes'),
    txOctets: file('statistics/tx_bytes'),
    rxFrames: file('statistics/rx_packets'),
    txFrames: file('statistics/tx_packets'),
    rxErrors: file('statistics/rx_errors'),
    txErrors: file('statistics/tx_errors'),
    rxDropped: file('statistics/rx_dropped'),
    txDropped: file('statistics/tx_dropped'),
    rxCrcErrors: file('statistics/rx_crc_errors'),
    rxAlignmentErrors: file('statistics/rx_frame_errors'),
    rxTooLong: file('statistics/rx_length_errors'),
    rxOversize: undefined,
    rxFragments: undefined,
    rxJabbers: undefined,
    forwardTooLong: undefined,
    ...linuxBus(sysfs),
    ...linuxPhysics(evidence, lineState),
    ...linuxLayers(evidence, uppers),
  };
  return orIfconfig(draft, evidence.ifconfig);
}

/** A file of /sys that holds one number. */
export function sysfsFile(sysfs: Sysfs | Gap, name: string): Settled<number> {
  if (isGap(sysfs)) return sysfs;
  const text = sysfs.values.get(name);
  if (text === undefined) {
    return gap('unsupported', sysfs.refused.get(name) ?? `/sys/class/net has no ${name}`);
  }
  return foundOr(wholeNumber(text), `/sys/class/net/*/${name}`, gap('unreadable', text));
}

/** The MTU of a port in `/sys`. */
export function mtuFile(sysfs: Sysfs | Gap): Settled<number> {
  const read = sysfsFile(sysfs, 'mtu');
  if (read === undefined || !('value' in read)) return read;
  return mtuNumber(read.value) === undefined ? gap('unreadable', String(read.value)) : read;
}

/** Whether a port is switched on, and whether it has a link. */
export function linuxState(evidence: Pick<LinuxEvidence, 'link' | 'sysfs'>): {
  readonly adminUp: Settled<boolean>;
  readonly operUp: Settled<boolean>;
} {
  const { link, sysfs } = evidence;
  if (link !== undefined) {
    const has = (flag: string) => link.flags.includes(flag);
    return {
      adminUp: found(has('UP'), 'ip link flag UP'),
      operUp: found(has('UP') && has('LOWER_UP'), 'ip link flag LOWER_UP'),
    };
  }
  if (isGap(sysfs)) return { adminUp: sysfs, operUp: sysfs };
  const flags = sysfs.values.get('flags') ?? '';
  if (!/^0x[0-9a-f]{1,8}$/i.test(flags)) {
    const why = gap('unreadable', flags === '' ? '/sys/class/net has no flags' : flags);
    return { adminUp: why, operUp: why };
  }
  const up = (Number.parseInt(flags.slice(2), 16) & 1) === 1;
  const carrier = sysfs.values.get('carrier');
  const operUp =
    carrier === '0' || carrier === '1' ? up && carrier === '1' : up ? undefined : false;
  return {
    adminUp: found(up, '/sys/class/net/*/flags'),
    operUp: foundOr(
      operUp,
      '/sys/class/net/*/carrier',
      gap('unreadable', sysfs.refused.get('carrier') ?? 'no carrier'),
    ),
  };
}

function aliasOf({ link, sysfs }: LinuxEvidence): Settled<string> {
  const fromIp = cleaned(link?.alias);
  if (fromIp !== undefined) return found(fromIp, 'ip link ifalias');
  if (link !== undefined) return undefined;
  if (isGap(sysfs)) return sysfs;
  return foundOr(cleaned(sysfs.values.get('ifalias')), '/sys/class/net/*/ifalias', undefined);
}

function macOf({ link, sysfs }: LinuxEvidence): Settled<string> {
  if (link !== undefined) return foundOr(link.macAddress, 'ip link', undefined);
  if (isGap(sysfs)) return sysfs;
  return foundOr(macText(sysfs.values.get('address')), '/sys/class/net/*/address', undefined);
}

function permanentMacOf(evidence: LinuxEvidence, uppers: LinuxUppers): Settled<string> {
  const { link, sysfs, name } = evidence;
  if (link?.permanentMacAddress !== undefined) {
    return found(link.permanentMacAddress, 'ip link permaddr');
  }
  const member = uppers.bonds.get(name)?.bond?.members.find((one) => one.name === name);
  if (member?.permanentMacAddress !== undefined) {
    return found(member.permanentMacAddress, '/proc/net/bonding Permanent HW addr');
  }
  if (isGap(sysfs)) return sysfs;
  // Type 0 is "burnt in" only where there is hardware; a virtual port says 0 as well at times.
  if (!sysfs.hasDevice) return undefined;
  const permanent = sysfs.values.get('addr_assign_type') === '0';
  const ofMember = macText(sysfs.values.get('bonding_slave/perm_hwaddr'));
  if (ofMember !== undefined) return found(ofMember, '/sys/class/net/*/bonding_slave/perm_hwaddr');
  return foundOr(
    permanent ? macText(sysfs.values.get('address')) : undefined,
    '/sys/class/net/*/address',
    gap('unsupported', 'the address in use is not the one burnt in, and the system names no other'),
  );
}

/** Why something that only `ip -d` prints is absent. */
function limitGap({ link }: LinuxEvidence): Gap {
  return gap('unsupported', link === undefined ? 'no answer from ip' : 'ip does not print it');
}

function mtuLimit(evidence: LinuxEvidence, name: 'mtuMinBytes' | 'mtuMaxBytes'): Settled<number> {
  const limit = evidence.link?.[name];
  if (limit === 0) return gap('unsupported', 'printed as 0: the driver names no limit');
  return foundOr(mtuNumber(limit), 'ip -d link', limitGap(evidence));
}

function driverFact(driver: string | Gap, sysfs: Sysfs | Gap): Settled<string> {
  if (!isGap(driver)) return foundOr(cleaned(driver), 'ethtool -i', undefined);
  if (driver.reason === 'truncated' || isGap(sysfs)) return driver;
  return foundOr(cleaned(sysfs.driver), '/sys/class/net/*/device/driver', driver);
}

function lowerOf({ link, lower }: LinuxEvidence): Settled<readonly string[]> {
  if (isGap(lower)) return lower;
  const clean = [...new Set(lower.flatMap((name) => cleaned(name) ?? []))].sort(byName);
  if (clean.length === 0) return undefined;
  return found(clean, link !== undefined ? 'ip link link and master' : '/sys/class/net/*/lower_*');
}
