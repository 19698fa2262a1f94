import type { Gap } from '../../facts/gap.ts';
import { found, foundOr, gap, type PortDraft, type Settled } from '../unix/draft.ts';
import { isGap } from '../unix/linux-evidence.ts';
import { textsOf, type WindowsEvidence } from './windows-sections.ts';
import { registryNumber } from './windows-values.ts';

/**
 * Octets of the header that the keyword *JumboPacket counts: its default and least value is 1514,
 * the largest frame of plain Ethernet without its FCS ("Keywords That Can Be Edited", Windows
 * driver documentation).
 */
const jumboHeaderBytes = 14;
const jumboRange = [1514, 65_549] as const;

/** Facts of a port that are settings of its driver. */
export type DriverSettings = Pick<
  PortDraft,
  'driverMtuBytes' | 'mtuMaxBytes' | 'autoNegotiation' | 'eeeEnabled'
> & { readonly vlanId: number | undefined };

/**
 * Reads the standardized keywords of a driver ("Keywords That Can Be Edited", "Enumeration
 * Keywords" of the Windows driver documentation): by the cmdlet, or by the registry, which any
 * account may read. Their words are translated; their values are numbers.
 */
export function driverSettings(evidence: WindowsEvidence): DriverSettings {
  const setting = (keyword: string, inRegistry: string) =>
    valueOfKeyword(evidence, keyword, inRegistry);
  const jumbo = setting('*JumboPacket', 'JumboPacket');
  const speedDuplex = setting('*SpeedDuplex', 'SpeedDuplex');
  const eee = setting('*EEE', 'Eee');
  const vlan = setting('VlanID', 'VlanID');
  const unset = gap('unsupported', 'the driver has no such setting');
  return {
    driverMtuBytes: jumboBytes(jumbo),
    mtuMaxBytes: largestJumbo(evidence),
    autoNegotiation: flagFrom(speedDuplex, (value) => value === 0, unset),
    eeeEnabled: flagFrom(eee, (value) => (value > 1 ? undefined : value === 1), unset),
    vlanId: 'value' in vlan && vlan.value >= 1 && vlan.value <= 4094 ? vlan.value : undefined,
  };
}

type Setting = { readonly value: number; readonly source: string } | Gap | { readonly none: true };

function valueOfKeyword(
  { name, sections, registry }: WindowsEvidence,
  keyword: string,
  inRegistry: string,
): Setting {
  const { properties } = sections;
  const row = isGap(properties) ? undefined : propertyOf(properties, name, keyword);
  const [text] = textsOf(row?.['RegistryValue']);
  const value = registryNumber(text);
  if (value !== undefined) return { value, source: `Get-NetAdapterAdvancedProperty ${keyword}` };
  if (text !== undefined) return gap('unreadable', `${keyword} is "${text}"`);
  if (registry !== undefined && !isGap(registry)) {
    const written = registry[inRegistry];
    const kept = registryNumber(written);
    if (kept !== undefined) return { value: kept, source: `registry ${keyword}` };
    if (typeof written === 'string') return gap('unreadable', `${keyword} is "${written}"`);
    return { none: true };
  }
  if (registry !== undefined) return isGap(properties) ? properties : registry;
  return isGap(properties) && properties.reason === 'truncated' ? properties : { none: true };
}

function propertyOf(
  rows: readonly Readonly<Record<string, unknown>>[],
  name: string,
  keyword: string,
) {
  return rows.find(
    (row) =>
      row['Name'] === name &&
      typeof row['RegistryKeyword'] === 'string' &&
      row['RegistryKeyword'].toLowerCase() === keyword.toLowerCase(),
  );
}

function jumboBytes(setting: Setting): Settled<number> {
  // A port without the setting keeps its MTU in one place, and nothing is missing.
  if ('none' in setting) return undefined;
  if (!('value' in setting)) return setting;
  const bytes = payloadOf(setting.value);
  return foundOr(bytes, setting.source, gap('unreadable', `*JumboPacket is ${setting.value}`));
}

function payloadOf(jumbo: number): number | undefined {
  const [least, most] = jumboRange;
  return jumbo >= least && jumbo <= most ? jumbo - jumboHeaderBytes : undefined;
}

function largestJumbo({ name, sections: { properties } }: WindowsEvidence): Settled<number> {
  if (isGap(properties)) return properties;
  const row = propertyOf(properties, name, '*JumboPacket');
  const valid = [...textsOf(row?.['ValidRegistryValues']), row?.['NumericParameterMaxValue']];
  const sizes = valid.flatMap((value) => payloadOf(registryNumber(value) ?? 0) ?? []);
  if (sizes.length === 0) return gap('unsupported', 'the driver does not say');
  return found(Math.max(...sizes), 'Get-NetAdapterAdvancedProperty *JumboPacket');
}

function flagFrom(
  setting: Setting,
  read: (value: number) => boolean | undefined,
  unset: Gap,
): Settled<boolean> {
  if ('none' in setting) return unset;
  if (!('value' in setting)) return setting;
  return foundOr(read(setting.value), setting.source, gap('unreadable', `value ${setting.value}`));
}
