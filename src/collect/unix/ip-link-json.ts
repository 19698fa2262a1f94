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
  const slave = objectOf(info?.['info_slave_data']);
  const member = textOf(info?.['info_slave_kind']);
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
    permanentMacAddress: ether
      ? macText(textOf(item['permaddr']) ?? textOf(slave?.['perm_hwaddr']))
      : undefined,
    alias: textOf(item['ifalias']),
    infoKind,
    vlanId: infoKind === 'vlan' ? vlanIdOf(data?.['id']) : undefined,
    lower: textOf(item['link']),
    master: textOf(item['master']),
    bondMode: infoKind === 'bond' ? textOf(data?.['mode']) : undefined,
    bondPartner: infoKind === 'bond' ? partnerOf(objectOf(data?.['ad_info'])) : undefined,
    vlanFiltering: infoKind === 'bridge' ? flagOf(data?.['vlan_filtering']) : undefined,
    bridgeState: member === 'bridge' ? textOf(slave?.['state']) : undefined,
    aggregatorId: member === 'bond' ? numberOf(slave?.['ad_aggregator_id']) : undefined,
    lacpActor: member === 'bond' ? numberOf(slave?.['ad_actor_oper_port_state']) : undefined,
    lacpPartner: member === 'bond' ? numberOf(slave?.['ad_partner_oper_port_state']) : undefined,
  });
}

function partnerOf(info: JsonObject | undefined): IpLink['bondPartner'] | undefined {
  const aggregatorId = numberOf(info?.['aggregator']);
  const mac = textOf(info?.['partner_mac']);
  return aggregatorId === undefined || mac === undefined ? undefined : { aggregatorId, mac };
}

function flagOf(value: unknown): boolean | undefined {
  return value === 0 || value === 1 ? value === 1 : undefined;
}

function flagsOf(value: unknown): readonly string[] {
  if (!Array.isArray(value)) return [];
  return value.slice(0, 64).filter((flag): flag is string => typeof flag === 'string');
}

function vlanIdOf(value: unknown): number | undefined {
  const id = numberOf(value);
  return id !== undefined && id <= 4095 ? id : undefined;
}
