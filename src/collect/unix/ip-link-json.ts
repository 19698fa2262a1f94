import type { IpLink } from './ip-link.ts';
import { type JsonObject, jsonObjects, numberOf, objectOf, textOf } from './json-values.ts';
import { macText, mtuNumber, present } from './text.ts';

/** Reads `ip -j -d link`; undefined where it is no JSON list. */
export function parseIpLinkJson(output: string): readonly IpLink[] | undefined {
  return jsonObjects(output)?.flatMap((item) => linkOf(item) ?? []);
}

function linkOf(item: JsonObject): IpLink | undefined {
  const name = textOf(item['ifname']);
  if (name === undefined) return undefined;
  const info = objectOf(item['linkinfo']);
  const infoKind = textOf(info?.['info_kind']);
  const data = objectOf(info?.['info_data']);
  const ether = item['link_type'] === 'ether';
  return present<IpLink>({
    name,
    ifIndex: numberOf(item['ifindex']),
    flags: flagsOf(item['flags']),
    mtuBytes: mtuNumber(numberOf(item['mtu'])),
    mtuMinBytes: numberOf(item['min_mtu']),
    mtuMaxBytes: numberOf(item['max_mtu']),
    linkType: textOf(item['link_type']),
    macAddress: ether ? macText(textOf(item['address'])) : undefined,
    permanentMacAddress: ether ? macText(textOf(item['permaddr'])) : undefined,
    alias: textOf(item['ifalias']),
    infoKind,
    vlanId: infoKind === 'vlan' ? vlanIdOf(data?.['id']) : undefined,
    lower: textOf(item['link']),
    master: textOf(item['master']),
  });
}

function flagsOf(value: unknown): readonly string[] {
  if (!Array.isArray(value)) return [];
  return value.slice(0, 64).filter((flag): flag is string => typeof flag === 'string');
}

function vlanIdOf(value: unknown): number | undefined {
  const id = numberOf(value);
  return id !== undefined && id <= 4095 ? id : undefined;
}
