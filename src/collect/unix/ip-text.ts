import type { IpLink } from './ip-link.ts';
import { firstGroup, macText, mtuNumber, present, textLines, wholeNumber } from './text.ts';

// `4: eno1.20@eno1: <BROADCAST,UP,LOWER_UP> mtu 9000 ...`
const head = /^(\d{1,10}): ([^\s@]+?)(?:@(\S+?))?: <([^>]*)>(.*)$/;

/** What `ip -d` prints first on the line about the kind of a virtual interface. */
const infoKinds =
  /(?:^|\s)(vlan protocol|bridge forward_delay|bond mode|veth|dummy|macvlan mode|macvtap mode|ipvlan|ipvtap|vxlan id|team|tun type|ifb|vrf table|macsec|netkit|wireguard|geneve id|ip6gretap|ip6gre|ip6tnl|gretap|gre|erspan|ipip|sit|vti6|vti|xfrm)(?=\s|$)/;

/** Reads `ip -o link`, with or without `-d`, of any age, BusyBox included. */
export function parseIpLinkText(output: string): readonly IpLink[] {
  return textLines(output).flatMap((line) => linkOf(line) ?? []);
}

function linkOf(line: string): IpLink | undefined {
  const match = head.exec(line);
  if (match === null) return undefined;
  const [, index, name = '', peer, flags = '', whole = ''] = match;
  // The alias comes last and holds anything.
  const [rest = '', ...aliasParts] = whole.split(/\\ {4}alias /);
  const alias = aliasParts.length > 0 ? aliasParts.join(' ').trim() : undefined;
  const infoKind = firstGroup(afterLinkLine(rest), infoKinds)?.split(' ')[0];
  return present<IpLink>({
    name,
    ifIndex: wholeNumber(index),
    flags: flags.split(','),
    mtuBytes: mtuNumber(wholeNumber(firstGroup(rest, /^ mtu (\d+)(?=\s|\\|$)/))),
    mtuMinBytes: wholeNumber(firstGroup(rest, / minmtu (\d+)(?=\s|$)/)),
    mtuMaxBytes: wholeNumber(firstGroup(rest, / maxmtu (\d+)(?=\s|$)/)),
    linkType: firstGroup(rest, /\slink\/(\w+)/),
    macAddress: macText(firstGroup(rest, /\slink\/ether ([0-9a-f:]{17})(?=\s|$)/i)),
    permanentMacAddress: macText(
      firstGroup(rest, / (?:permaddr|perm_hwaddr) ([0-9a-f:]{17})(?=\s|$)/i),
    ),
    alias: alias === '' ? undefined : alias,
    infoKind,
    vlanId: wholeNumber(firstGroup(rest, /\svlan protocol \S+ id (\d{1,4})(?=\s|$)/)),
    // `@if7` is an interface of another network namespace, `@NONE` none.
    lower: peer === undefined || /^(?:if\d+|NONE)$/.test(peer) ? undefined : peer,
    master: firstGroup(rest, /^[^\\]* master (\S+)/),
    ...layersOf(rest),
  });
}

/** What `-d` prints of bonds, bridges and their members. */
function layersOf(rest: string) {
  const number = (pattern: RegExp) => wholeNumber(firstGroup(rest, pattern));
  const filtering = firstGroup(rest, /\sbridge forward_delay .*? vlan_filtering ([01])(?=\s|$)/);
  const aggregatorId = number(/ ad_aggregator (\d{1,5})(?=\s|$)/);
  const mac = firstGroup(rest, / ad_partner_mac ([0-9a-f:]{17})(?=\s|$)/i);
  return {
    bondMode: firstGroup(rest, /\sbond mode (\S{1,32})(?=\s|$)/),
    bondPartner:
      aggregatorId === undefined || mac === undefined ? undefined : { aggregatorId, mac },
    vlanFiltering: filtering === undefined ? undefined : filtering === '1',
    bridgeState: firstGroup(rest, /\sbridge_slave state (\w{1,32})(?=\s|$)/),
    aggregatorId: number(/\sbond_slave .*? ad_aggregator_id (\d{1,5})(?=\s|$)/),
    lacpActor: number(/\sbond_slave .*? ad_actor_oper_port_state (\d{1,3})(?=\s|$)/),
    lacpPartner: number(/\sbond_slave .*? ad_partner_oper_port_state (\d{1,3})(?=\s|$)/),
  };
}

function afterLinkLine(rest: string): string {
  return rest.split('\\').slice(2).join(' ');
}

/** Addresses of one port that are kept. */
export const addressesMax = 1024;

/** Reads `ip -o addr`: addresses with prefix length by interface name, link-local left out. */
export function parseIpAddrText(output: string): ReadonlyMap<string, readonly string[]> {
  const byName = new Map<string, string[]>();
  for (const line of textLines(output)) {
    const match =
      /^\d+: ([^\s@]+?)(?:@\S+)?:? +inet6? ([0-9a-f.:]{2,45})(?: peer [0-9a-f.:]+)?(\/\d{1,3})?(?=\s)(.*)$/.exec(
        line,
      );
    if (match === null) continue;
    const [, name = '', local = '', prefix, rest = ''] = match;
    if (/ scope link(?=\s|$)/.test(rest)) continue;
    const length = prefix ?? (local.includes(':') ? '/128' : '/32');
    const known = byName.get(name) ?? [];
    if (known.length < addressesMax) known.push(`${local}${length}`);
    byName.set(name, known);
  }
  return byName;
}
