import type { Gap } from '../../facts/gap.ts';
import { type Found, found } from '../unix/draft.ts';
import { numberOf } from '../unix/json-values.ts';
import { isGap } from '../unix/linux-evidence.ts';
import type { HostPortKind } from '../unix/linux-kind.ts';
import { driverName } from './windows-driver.ts';
import { cell, type WindowsEvidence } from './windows-sections.ts';
import { flagOf } from './windows-values.ts';

/** IANAifType, which Get-NetAdapter and .NET both use; of .NET 117 is Gigabit Ethernet too. */
const kindOfType: Readonly<Record<number, HostPortKind>> = {
  23: 'tunnel',
  24: 'loopback',
  71: 'wireless',
  131: 'tunnel',
};

/** NDIS_PHYSICAL_MEDIUM: wireless LAN, native 802.11 (ntddndis.h). */
const wirelessMedia: ReadonlySet<number> = new Set([1, 9]);

/** Drivers of adapters that a hypervisor makes up. */
const paravirtual = /^(?:netvsc|vmxnet3|netkvm|xennet)/i;

/** NCF_PHYSICAL of the value Characteristics that each adapter's setup writes. */
const physicalCharacteristic = 4;

/** What kind of port this is; a gap where only a source could tell that said nothing. */
export function windowsKind(evidence: WindowsEvidence): Found<HostPortKind> | Gap {
  const { adapter, own, registry, team } = evidence;
  if (team !== undefined && !isGap(team)) return found('bond', 'Get-NetLbfoTeam');
  const type = cell(adapter, 'InterfaceType', numberOf) ?? cell(own, 'Type', numberOf);
  const medium = cell(adapter, 'NdisPhysicalMedium', numberOf);
  const byType = kindOfType[type ?? 0];
  if (byType !== undefined) return found(byType, 'interface type');
  if (medium !== undefined && wirelessMedia.has(medium)) {
    return found('wireless', 'Get-NetAdapter NdisPhysicalMedium');
  }
  const hardware = cell(adapter, 'HardwareInterface', flagOf);
  if (hardware !== undefined) {
    const real = hardware && !paravirtual.test(driverName(evidence) ?? '');
    return real
      ? found('physical', 'Get-NetAdapter HardwareInterface')
      : made(team, 'Get-NetAdapter');
  }
  if (registry !== undefined && isGap(registry)) return registry;
  const flags = cell(registry, 'Characteristics', numberOf);
  return flags !== undefined && (flags & physicalCharacteristic) !== 0
    ? found('physical', 'registry Characteristics')
    : made(team, 'registry Characteristics');
}

/** A virtual adapter may be that of a team, as long as the list of teams is still to come. */
function made(team: WindowsEvidence['team'], source: string): Found<HostPortKind> | Gap {
  const toCome = team !== undefined && isGap(team) && team.reason === 'truncated';
  return toCome ? team : found('virtual', source);
}
