import type { Gap } from '../../facts/gap.ts';
import { cleaned, found, foundOr, gap, type PortDraft, type Settled } from './draft.ts';
import type { Ifconfig } from './ifconfig-bsd.ts';
import { ifconfigLayers, lowerPortsOf } from './ifconfig-layer-facts.ts';
import { ifconfigLine } from './ifconfig-line.ts';
import type { BusFacts } from './linux-bus.ts';
import { isGap } from './linux-evidence.ts';
import type { HostPortKind } from './linux-kind.ts';
import { type BusReports, ethernetDevice, macosBus } from './macos-bus.ts';
import { macosKind } from './macos-kind.ts';
import { macosPhysics } from './macos-physics.ts';
import type { NetstatCounters } from './netstat-interfaces.ts';

/** All that the sections of one answer tell of one port of a macOS host. */
export interface MacosEvidence {
  readonly port: Ifconfig;
  /** Every port, since what one is a member of stands with the other. */
  readonly all: readonly Ifconfig[];
  /** Name in the system's settings; undefined: no hardware port. */
  readonly hardwarePort: string | Gap | undefined;
  readonly mtuSetting: { readonly settingBytes?: number } | Gap;
  readonly mtuRange: { readonly minBytes?: number; readonly maxBytes?: number } | Gap;
  /** Medium by networksetup, for a port of which ifconfig prints none. */
  readonly mediaSetting?: string;
  /** Of an aggregate: how it shares its members. */
  readonly bondMode?: string;
  readonly counters: NetstatCounters | Gap;
  readonly busReports: BusReports;
}

const notCounted = gap('unsupported', 'macOS does not count it');

/** All facts of one port of a macOS host, each with its source, or its gap. */
export function macosPort(evidence: MacosEvidence): PortDraft {
  const { all, hardwarePort, counters, mediaSetting } = evidence;
  const silent = evidence.port.media === undefined && mediaSetting !== undefined;
  const port = silent ? { ...evidence.port, media: mediaSetting } : evidence.port;
  const kind = macosKind(port, hardwarePort);
  const operUp = operUpOf(port);
  const state = { kind: isGap(kind) ? undefined : kind.value, operUp };
  return {
    alias: isGapOr(hardwarePort)
      ? hardwarePort
      : foundOr(cleaned(hardwarePort), 'networksetup -listallhardwareports', undefined),
    kind,
    macAddress: foundOr(port.macAddress, 'ifconfig ether', undefined),
    permanentMacAddress: undefined,
    ifIndex: foundOr(port.ifIndex, 'ifconfig -v', gap('unsupported', 'ifconfig prints no index')),
    ifType: undefined,
    adminUp: found(port.flags.includes('UP'), 'ifconfig flag UP'),
    operUp,
    mtuBytes: foundOr(port.mtuBytes, 'ifconfig mtu', gap('unreadable', 'ifconfig prints no mtu')),
    ...mtuFacts(evidence),
    ...ifconfigLine(port, state, {
      system: 'macOS',
      mediaSource: silent ? 'networksetup -getMedia' : 'ifconfig media',
    }),
    ...driverOf(evidence, state.kind),
    driverMtuBytes: undefined,
    carrierChanges: notCounted,
    lowerPorts: lowerPortsOf(port),
    vlanId: foundOr(port.vlanId, 'ifconfig vlan', undefined),
    addresses: found(port.addresses, 'ifconfig inet and inet6'),
    rxOctets: counter(counters, 'rxOctets', 'Ibytes'),
    txOctets: counter(counters, 'txOctets', 'Obytes'),
    rxFrames: counter(counters, 'rxFrames', 'Ipkts'),
    txFrames: counter(counters, 'txFrames', 'Opkts'),
    rxErrors: counter(counters, 'rxErrors', 'Ierrs'),
    txErrors: counter(counters, 'txErrors', 'Oerrs'),
    rxDropped: notCounted,
    txDropped: notCounted,
    rxCrcErrors: notCounted,
    rxAlignmentErrors: notCounted,
    rxTooLong: notCounted,
    rxOversize: undefined,
    rxFragments: undefined,
    rxJabbers: undefined,
    forwardTooLong: undefined,
    ...busOf(evidence, state.kind),
    ...macosPhysics(port, state),
    ...ifconfigLayers(port, all),
    aggregateMode: foundOr(
      evidence.bondMode,
      'ifconfig -b bond mode',
      port.name.startsWith('bond') ? gap('unsupported', 'ifconfig prints no bond mode') : undefined,
    ),
  };
}

function busOf({ port, busReports }: MacosEvidence, kind: HostPortKind | undefined): BusFacts {
  if (kind === 'physical') return macosBus(port.name, busReports);
  const why = gap('unasked', 'asked only of hardware ports');
  return { busText: why, busMbps: why, busMaxMbps: why };
}

/** The report has had several spellings of the version's key (from memory). */
const versionKeys = ['spethernetdriverversion', 'spethernetkextversion', 'spethernetversion'];

function driverOf(
  { port, busReports: { ethernet } }: MacosEvidence,
  kind: HostPortKind | undefined,
): Pick<PortDraft, 'driver' | 'driverVersion'> {
  if (kind !== 'physical') return { driver: undefined, driverVersion: undefined };
  if (isGap(ethernet)) return { driver: ethernet, driverVersion: ethernet };
  const item = ethernetDevice(port.name, ethernet);
  const source = 'system_profiler SPEthernetDataType';
  const unsaid = gap('unsupported', 'the system does not say');
  const version = versionKeys.map((key) => item?.get(key)).find((text) => text !== undefined);
  return {
    driver: foundOr(cleaned(item?.get('spethernetdriver')), source, unsaid),
    driverVersion: foundOr(cleaned(version), source, unsaid),
  };
}

function isGapOr(value: string | Gap | undefined): value is Gap {
  return value !== undefined && isGap(value);
}

function operUpOf(port: Ifconfig): Settled<boolean> {
  if (!port.flags.includes('UP')) return found(false, 'ifconfig flag UP');
  return foundOr(port.active, 'ifconfig status', gap('unsupported', 'ifconfig prints no status'));
}

function mtuFacts(
  evidence: MacosEvidence,
): Pick<PortDraft, 'mtuMinBytes' | 'mtuMaxBytes' | 'mtuConfiguredBytes'> {
  const { port, mtuRange, mtuSetting } = evidence;
  const unsaid = gap('unsupported', 'the system does not say');
  const max = isGap(mtuRange)
    ? mtuRange
    : foundOr(mtuRange.maxBytes, 'networksetup -listValidMTURange', unsaid);
  return {
    mtuMinBytes: isGap(mtuRange)
      ? mtuRange
      : foundOr(mtuRange.minBytes, 'networksetup -listValidMTURange', unsaid),
    mtuMaxBytes: foundOr<number>(port.mtuMaxBytes, 'ifconfig -v max mtu', max),
    mtuConfiguredBytes: isGap(mtuSetting)
      ? mtuSetting
      : foundOr(mtuSetting.settingBytes, 'networksetup -getMTU Current Setting', unsaid),
  };
}

function counter(
  counters: NetstatCounters | Gap,
  name: keyof NetstatCounters,
  column: string,
): Settled<number> {
  if (isGap(counters)) return counters;
  return foundOr(counters[name], `netstat -ibn ${column}`, notCounted);
}
