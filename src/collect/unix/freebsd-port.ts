import { pcieFromText } from '../../ethernet/host-bus-text.ts';
import type { Gap } from '../../facts/gap.ts';
import { busCodedMbps, busWords } from './bus-words.ts';
import { cleaned, found, foundOr, gap, type PortDraft, type Settled } from './draft.ts';
import type { FreebsdDriver } from './freebsd-driver.ts';
import { driverOfName, freebsdKind } from './freebsd-kind.ts';
import { freebsdPhysics } from './freebsd-physics.ts';
import type { Ifconfig } from './ifconfig-bsd.ts';
import { ifconfigLayers, lowerPortsOf } from './ifconfig-layer-facts.ts';
import { ifconfigLine } from './ifconfig-line.ts';
import type { BusFacts } from './linux-bus.ts';
import { isGap } from './linux-evidence.ts';
import type { HostPortKind } from './linux-kind.ts';
import type { NetstatCounters } from './netstat-interfaces.ts';
import type { PciLink } from './pciconf.ts';

/** All that the sections of one answer tell of one port of a FreeBSD host. */
export interface FreebsdEvidence {
  readonly port: Ifconfig;
  /** Every port, since what one is a member of stands with the other. */
  readonly all: readonly Ifconfig[];
  readonly counters: NetstatCounters | Gap;
  readonly driver: FreebsdDriver | Gap;
  readonly pci: ReadonlyMap<string, PciLink> | Gap;
}

const notCounted = gap('unsupported', 'FreeBSD does not count it');
const unsaid = gap('unsupported', 'FreeBSD does not say');

/** All facts of one port of a FreeBSD host, each with its source, or its gap. */
export function freebsdPort(evidence: FreebsdEvidence): PortDraft {
  const { port, all, counters, driver } = evidence;
  const kind = freebsdKind(port);
  const operUp = operUpOf(port);
  const state = { kind: kind.value, operUp };
  const hardware = kind.value === 'physical' || kind.value === 'wireless';
  const count = (name: keyof NetstatCounters, column: string): Settled<number> =>
    isGap(counters) ? counters : foundOr(counters[name], `netstat -ibdnW ${column}`, notCounted);
  return {
    alias: foundOr(cleaned(port.alias), 'ifconfig description', undefined),
    kind,
    macAddress: foundOr(port.macAddress, 'ifconfig ether', undefined),
    permanentMacAddress: foundOr(
      port.permanentMacAddress,
      'ifconfig hwaddr',
      hardware
        ? gap('unsupported', 'ifconfig names no other address than the one in use')
        : undefined,
    ),
    ifIndex: count('ifIndex', 'Link#'),
    ifType: undefined,
    adminUp: found(port.flags.includes('UP'), 'ifconfig flag UP'),
    operUp,
    mtuBytes: foundOr(port.mtuBytes, 'ifconfig mtu', gap('unreadable', 'ifconfig prints no mtu')),
    mtuMinBytes: unsaid,
    mtuMaxBytes: unsaid,
    mtuConfiguredBytes: undefined,
    driverMtuBytes: undefined,
    ...ifconfigLine(port, state, { system: 'FreeBSD' }),
    ...driverFacts(port, driver, kind.value),
    carrierChanges: notCounted,
    lowerPorts: lowerPortsOf(port),
    vlanId: foundOr(port.vlanId, 'ifconfig vlan', undefined),
    addresses: found(port.addresses, 'ifconfig inet and inet6'),
    rxOctets: count('rxOctets', 'Ibytes'),
    txOctets: count('txOctets', 'Obytes'),
    rxFrames: count('rxFrames', 'Ipkts'),
    txFrames: count('txFrames', 'Opkts'),
    rxErrors: count('rxErrors', 'Ierrs'),
    txErrors: count('txErrors', 'Oerrs'),
    rxDropped: count('rxDropped', 'Idrop'),
    txDropped: count('txDropped', 'Drop'),
    rxCrcErrors: notCounted,
    rxAlignmentErrors: notCounted,
    rxTooLong: notCounted,
    rxOversize: undefined,
    rxFragments: undefined,
    rxJabbers: undefined,
    forwardTooLong: undefined,
    ...busOf(evidence, kind.value),
    ...freebsdPhysics(port, state),
    ...ifconfigLayers(port, all),
  };
}

/** Ports that have no medium print no status; newer releases give the flag LOWER_UP instead. */
function operUpOf(port: Ifconfig): Settled<boolean> {
  if (!port.flags.includes('UP')) return found(false, 'ifconfig flag UP');
  const byFlag = port.flags.includes('LOWER_UP') ? true : undefined;
  const unsaid = gap('unsupported', 'ifconfig prints no status');
  return foundOr<boolean>(
    port.active,
    'ifconfig status',
    foundOr(byFlag, 'ifconfig flag LOWER_UP', unsaid),
  );
}

function driverFacts(
  port: Ifconfig,
  driver: FreebsdDriver | Gap,
  kind: HostPortKind,
): Pick<PortDraft, 'driver' | 'driverVersion'> {
  const made = kind !== 'physical' && kind !== 'wireless' && kind !== 'virtual';
  if (made) return { driver: undefined, driverVersion: undefined };
  const named = cleaned(port.driverName && driverOfName(port.driverName));
  if (isGap(driver)) {
    return { driver: foundOr(named, 'ifconfig -v drivername', driver), driverVersion: driver };
  }
  return {
    driver: found(driver.name, 'sysctl dev.*.%driver'),
    driverVersion: foundOr(cleaned(driver.version), 'sysctl dev.*.iflib.driver_version', unsaid),
  };
}

function busOf({ port, pci }: FreebsdEvidence, kind: HostPortKind): BusFacts {
  const alike = (why: Gap): BusFacts => ({ busText: why, busMbps: why, busMaxMbps: why });
  if (kind !== 'physical') return alike(gap('unasked', 'there is no device behind the port'));
  if (isGap(pci)) return alike(pci);
  const link = pci.get(port.driverName ?? port.name);
  const bus = link && pcieFromText(link.speed, link.width);
  if (bus?.kind !== 'pcie') {
    return alike(gap('unsupported', 'pciconf prints no PCI Express link of a device of that name'));
  }
  return {
    busText: found(busWords(bus), 'pciconf -lc'),
    busMbps: found(busCodedMbps(bus), 'pciconf -lc'),
    busMaxMbps: gap('unsupported', 'FreeBSD does not tell what the slot could do'),
  };
}
