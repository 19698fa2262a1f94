import type { Gap } from '../../facts/gap.ts';
import type { BridgeVlans } from './bridge-vlans.ts';
import { cleaned, found, foundOr, gap, type Settled } from './draft.ts';
import type { LayerFacts } from './ifconfig-layer-facts.ts';
import { lacpStateOf } from './lacp-state.ts';
import { isGap, type LinuxEvidence } from './linux-evidence.ts';
import { linuxKind } from './linux-kind.ts';
import type { ProcBondMember } from './proc-bonding.ts';
import { spanningTreeOf } from './spanning-tree.ts';
import { macText, wholeNumber } from './text.ts';

/** What stands above the ports of one host. */
export interface LinuxUppers {
  /** The bond by its member's name. */
  readonly bonds: ReadonlyMap<string, LinuxEvidence>;
  /** The bridge by its member's name. */
  readonly bridges: ReadonlyMap<string, LinuxEvidence>;
  /** VLANs of ports of bridges, or why they are not known. */
  readonly vlans: ReadonlyMap<string, BridgeVlans> | Gap;
}

/** The bond and the bridge of every port that is a member of one. */
export function uppersOf(all: readonly LinuxEvidence[], vlans: LinuxUppers['vlans']): LinuxUppers {
  const of = (wanted: string) => {
    const uppers = new Map<string, LinuxEvidence>();
    for (const upper of all) {
      const kind = linuxKind(upper);
      if (isGap(kind) || kind.value !== wanted || isGap(upper.lower)) continue;
      for (const name of upper.lower) uppers.set(name, upper);
    }
    return uppers;
  };
  return { bonds: of('bond'), bridges: of('bridge'), vlans };
}

/** Facts of a Linux port's place among bridges and bonds. */
export function linuxLayers(evidence: LinuxEvidence, uppers: LinuxUppers): LayerFacts {
  return {
    ...memberFacts(evidence, uppers.bonds.get(evidence.name)),
    aggregateMode: modeOf(evidence),
    spanningTree: spanningTreeFact(evidence, uppers.bridges.get(evidence.name)),
    ...vlanFacts(evidence, uppers),
  };
}

/** The mode, from what comes first in the answer to what comes last. */
function modeOf(evidence: LinuxEvidence): Settled<string> {
  const { link, bond, sysfs } = evidence;
  const kind = linuxKind(evidence);
  const file = isGap(sysfs) ? undefined : sysfs.values.get('bonding/mode')?.split(' ')[0];
  const isBond = !isGap(kind) && kind.value === 'bond';
  const unsaid = isGap(sysfs) ? sysfs : gap('unsupported', 'the system does not say');
  return foundOr(
    cleaned(link?.bondMode),
    'ip -d link info_data mode',
    foundOr(
      bond?.mode,
      '/proc/net/bonding',
      foundOr(cleaned(file), '/sys/class/net/*/bonding/mode', isBond ? unsaid : undefined),
    ),
  );
}

function memberFacts(evidence: LinuxEvidence, upper: LinuxEvidence | undefined) {
  const none = undefined;
  const nothing = { aggregatorId: none, lacpActor: none, lacpPartner: none };
  if (upper === undefined) return { aggregate: none, ...nothing, lacpPartnerSystem: none };
  const source = upper.link === undefined ? '/sys/class/net/*/bonding/slaves' : 'ip link master';
  const aggregate = foundOr(cleaned(upper.name), source, undefined);
  const mode = modeOf(upper);
  const lacp = mode !== undefined && 'value' in mode && mode.value === '802.3ad';
  if (!lacp) return { aggregate, ...nothing, lacpPartnerSystem: none };
  const { link } = evidence;
  const proc = upper.bond?.members.find(({ name }) => name === evidence.name);
  const number = (
    byIp: number | undefined,
    byProc: number | undefined,
    file: string,
  ): Settled<number> => firstTold(evidence, { byIp, byProc, file });
  const state = (settled: Settled<number>): Settled<readonly string[]> => {
    if (settled === undefined || !('value' in settled)) return settled;
    const names = lacpStateOf(settled.value);
    return foundOr(names, settled.source, gap('unreadable', String(settled.value)));
  };
  const aggregatorId = number(link?.aggregatorId, proc?.aggregatorId, 'ad_aggregator_id');
  return {
    aggregate,
    aggregatorId,
    lacpActor: state(number(link?.lacpActor, proc?.actorState, 'ad_actor_oper_port_state')),
    lacpPartner: state(number(link?.lacpPartner, proc?.partnerState, 'ad_partner_oper_port_state')),
    lacpPartnerSystem: partnerOf(upper, aggregatorId, proc),
  };
}

function firstTold(
  { sysfs }: LinuxEvidence,
  told: {
    readonly byIp: number | undefined;
    readonly byProc: number | undefined;
    readonly file: string;
  },
): Settled<number> {
  const text = isGap(sysfs) ? undefined : sysfs.values.get(`bonding_slave/${told.file}`);
  const unsaid = isGap(sysfs) ? sysfs : gap('unsupported', `the system prints no ${told.file}`);
  return foundOr(
    told.byIp,
    `ip -d link ${told.file}`,
    foundOr(
      told.byProc,
      '/proc/net/bonding',
      foundOr(wholeNumber(text), `/sys/class/net/*/bonding_slave/${told.file}`, unsaid),
    ),
  );
}

/**
 * Who answers a member. `ip` says it of the aggregator in use alone, `/proc` of every member, but
 * to administrators only. All zeros: nobody does, and the fact is absent without a reason.
 */
function partnerOf(
  { link }: LinuxEvidence,
  aggregatorId: Settled<number>,
  proc: ProcBondMember | undefined,
): Settled<string> {
  const own =
    aggregatorId !== undefined && 'value' in aggregatorId ? aggregatorId.value : undefined;
  const used = link?.bondPartner;
  if (used !== undefined && used.aggregatorId === own) {
    return foundOr(macText(used.mac), 'ip -d link ad_info partner_mac', undefined);
  }
  if (proc?.partnerSystem !== undefined) {
    return foundOr(macText(proc.partnerSystem), '/proc/net/bonding', undefined);
  }
  return gap('denied', '/proc/net/bonding shows it to administrators only');
}

function spanningTreeFact(
  { link, sysfs }: LinuxEvidence,
  bridge: LinuxEvidence | undefined,
): Settled<string> {
  const byIp = spanningTreeOf(link?.bridgeState);
  if (byIp !== undefined) return found(byIp, 'ip -d link info_slave_data state');
  if (bridge === undefined) return undefined;
  if (isGap(sysfs)) return sysfs;
  const file = sysfs.values.get('brport/state');
  const unsaid = gap('unsupported', 'the system does not say');
  return foundOr(spanningTreeOf(file), '/sys/class/net/*/brport/state', unsaid);
}

function vlanFacts({ name }: LinuxEvidence, { bridges, vlans }: LinuxUppers) {
  const alike = (why: Gap | undefined) => ({
    untaggedVlan: why,
    untaggedVlans: why,
    taggedVlans: why,
  });
  const bridge = bridges.get(name);
  if (bridge === undefined) return alike(undefined);
  const filtering = filteringOf(bridge);
  if (typeof filtering !== 'boolean') return alike(filtering);
  // A bridge that does not look at VLANs keeps a table of them all the same.
  if (!filtering) return alike(gap('unsupported', 'its bridge does not tell VLANs apart'));
  if (isGap(vlans)) return alike(vlans);
  const own = vlans.get(name);
  return {
    untaggedVlan: foundOr(own?.untaggedVlan, 'bridge vlan PVID', undefined),
    untaggedVlans: found(own?.untagged ?? [], 'bridge vlan Egress Untagged'),
    taggedVlans: found(own?.tagged ?? [], 'bridge vlan'),
  };
}

function filteringOf({ link, sysfs }: LinuxEvidence): boolean | Gap {
  if (link?.vlanFiltering !== undefined) return link.vlanFiltering;
  if (isGap(sysfs)) return sysfs;
  const file = sysfs.values.get('bridge/vlan_filtering');
  if (file === '0' || file === '1') return file === '1';
  // Kernels before 3.9 have no such file, and no VLANs in a bridge.
  return gap('unsupported', 'the system does not say whether its bridge tells VLANs apart');
}
