import type { Gap } from '../../facts/gap.ts';
import { byName } from '../../facts/order.ts';
import { cleaned, found, foundOr, gap, type PortDraft, type Settled } from '../unix/draft.ts';
import { numberOf, textOf } from '../unix/json-values.ts';
import { isGap } from '../unix/linux-evidence.ts';
import { noModuleFacts } from '../unix/port-physics.ts';
import { driverSettings } from './driver-settings.ts';
import { notAsked } from './not-asked.ts';
import { windowsBus } from './windows-bus.ts';
import { windowsCounters } from './windows-counters.ts';
import { driverName } from './windows-driver.ts';
import { windowsAddresses, windowsIndex, windowsMtu } from './windows-ip.ts';
import { windowsKind } from './windows-kind.ts';
import { cell, textsOf, type WindowsEvidence } from './windows-sections.ts';
import { flagOf, mbpsOf, windowsMac } from './windows-values.ts';

const unsaid = gap('unsupported', 'Windows does not say');
const notCounted = gap('unsupported', 'Windows does not count it');
const down = gap('down', 'no link');

/** All facts of one port of a Windows host, each with its source, or its gap. */
export function windowsPort(evidence: WindowsEvidence): PortDraft {
  const { adapter, own, registry } = evidence;
  const kind = windowsKind(evidence);
  const operUp = operUpOf(evidence);
  const linkless = operUp !== undefined && 'value' in operUp && !operUp.value;
  const hardware = isGap(kind) || kind.value === 'physical' || kind.value === 'wireless';
  const settings = driverSettings(evidence);
  const { vlanId: setVlan, ...set } = settings;
  const vlanId = vlanOf(cell(adapter, 'VlanID', numberOf)) ?? setVlan;
  return {
    alias: foundOr(
      cleaned(cell(adapter, 'InterfaceDescription', textOf) ?? cell(own, 'Description', textOf)),
      'interface description',
      undefined,
    ),
    kind,
    macAddress: foundOr(
      cell(adapter, 'MacAddress', windowsMac) ?? cell(own, 'Mac', windowsMac),
      'MAC address',
      undefined,
    ),
    permanentMacAddress: foundOr(
      cell(adapter, 'PermanentAddress', windowsMac),
      'Get-NetAdapter PermanentAddress',
      hardware ? because(adapter, unsaid) : undefined,
    ),
    ifIndex: foundOr(windowsIndex(evidence), 'interface index', because(adapter, unsaid)),
    ifType: undefined,
    adminUp: adminUpOf(evidence, operUp),
    operUp,
    linkText: undefined,
    mtuBytes: windowsMtu(evidence),
    mtuMinBytes: unsaid,
    mtuConfiguredBytes: undefined,
    speedMbps: linkless ? down : speedOf(evidence),
    duplex: linkless ? down : duplexOf(evidence),
    supportedModes: unsaid,
    advertisedModes: unsaid,
    partnerModes: unsaid,
    mediaText: unsaid,
    driver: foundOr(driverName(evidence), 'Get-NetAdapter DriverName', because(adapter, unsaid)),
    driverVersion: foundOr(
      cleaned(
        cell(adapter, 'DriverVersionString', textOf) ?? cell(registry, 'DriverVersion', textOf),
      ),
      'DriverVersion',
      because(adapter, unsaid),
    ),
    carrierChanges: notCounted,
    lowerPorts: lowerOf(evidence),
    vlanId: foundOr(vlanId, 'VLAN identifier of the adapter', undefined),
    addresses: windowsAddresses(evidence),
    rxCrcErrors: notCounted,
    rxAlignmentErrors: notCounted,
    rxTooLong: notCounted,
    phyText: unsaid,
    pauseRx: unsaid,
    pauseTx: unsaid,
    rxPauseFrames: notCounted,
    txPauseFrames: notCounted,
    eeeActive: unsaid,
    fecText: unsaid,
    partnerAutoNegotiation: unsaid,
    linkDownEvents: notCounted,
    lateCollisions: notCounted,
    rxSymbolErrors: notCounted,
    ...notAsked,
    ...set,
    ...windowsCounters(evidence),
    ...windowsBus(evidence),
    ...noModuleFacts(unsaid),
  };
}

/** Why a fact of the management interface is absent: its own gap, where it gave nothing at all. */
function because(row: WindowsEvidence['adapter'], otherwise: Gap): Gap {
  return row !== undefined && isGap(row) ? row : otherwise;
}

/** IF-MIB ifOperStatus and the numbers of Windows agree: up 1, down 2, not present 6, lower down 7. */
function operUpOf({ adapter, own }: WindowsEvidence): Settled<boolean> {
  const byCmdlet = upOf(cell(adapter, 'InterfaceOperationalStatus', numberOf));
  if (byCmdlet !== undefined) return found(byCmdlet, 'Get-NetAdapter InterfaceOperationalStatus');
  const byOwn = upOf(cell(own, 'Status', numberOf));
  return foundOr(byOwn, '.NET OperationalStatus', because(adapter, unsaid));
}

function upOf(status: number | undefined): boolean | undefined {
  if (status === 1) return true;
  return status === 2 || status === 6 || status === 7 ? false : undefined;
}

/** What is up was switched on; what is down may be either. */
function adminUpOf({ adapter }: WindowsEvidence, operUp: Settled<boolean>): Settled<boolean> {
  const status = cell(adapter, 'InterfaceAdminStatus', numberOf);
  if (status === 1 || status === 2) {
    return found(status === 1, 'Get-NetAdapter InterfaceAdminStatus');
  }
  const up = operUp !== undefined && 'value' in operUp && operUp.value;
  return up ? found(true, operUp.source) : because(adapter, unsaid);
}

function speedOf({ adapter, own }: WindowsEvidence): Settled<number> {
  const receive = cell(adapter, 'ReceiveLinkSpeed', mbpsOf);
  const send = cell(adapter, 'TransmitLinkSpeed', mbpsOf);
  const slower = receive !== undefined && send !== undefined ? Math.min(receive, send) : receive;
  if (slower !== undefined) return found(slower, 'Get-NetAdapter ReceiveLinkSpeed');
  return foundOr(cell(own, 'Speed', mbpsOf), '.NET Speed', because(adapter, unsaid));
}

/** NET_IF_MEDIA_DUPLEX_STATE (ifdef.h): unknown 0, half 1, full 2. */
function duplexOf({ adapter }: WindowsEvidence): Settled<string> {
  const state = cell(adapter, 'MediaDuplexState', numberOf);
  if (state === 1 || state === 2) {
    return found(state === 2 ? 'full' : 'half', 'Get-NetAdapter MediaDuplexState');
  }
  const full = cell(adapter, 'FullDuplex', flagOf);
  return full === true ? found('full', 'Get-NetAdapter FullDuplex') : because(adapter, unsaid);
}

function vlanOf(id: number | undefined): number | undefined {
  return id !== undefined && id >= 1 && id <= 4094 ? id : undefined;
}

function lowerOf({ team }: WindowsEvidence): PortDraft['lowerPorts'] {
  const members = cell(team, 'Members', textsOf) ?? [];
  const names = [...new Set(members.flatMap((name) => cleaned(name) ?? []))].sort(byName);
  return names.length === 0 ? undefined : found(names, 'Get-NetLbfoTeam Members');
}
