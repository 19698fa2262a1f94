import { ethtoolModeName } from '../../ethernet/ethtool-mode.ts';
import { parseLldpCapability } from '../../ethernet/lldp-capability.ts';
import { mauType } from '../../ethernet/mau-type.ts';
import type { NeighbourReading } from '../../facts/survey.ts';
import type { Walk } from './bulk-table.ts';
import type { LldpObjects } from './lldp-objects.ts';
import { vlanMax } from './port-vlans.ts';
import type { SnmpObject } from './snmp-object.ts';
import { cellOf } from './table-cells.ts';
import { integerOf, octetsOf } from './values.ts';

type Extensions = Pick<
  NeighbourReading,
  | 'speedMbps'
  | 'duplex'
  | 'phyText'
  | 'autoNegotiation'
  | 'advertisedModes'
  | 'frameMaxBytes'
  | 'untaggedVlan'
>;

/** What a neighbour sends of its port by the extensions of IEEE 802.3 and 802.1. */
export function lldpExtensions(
  walk: Walk,
  { dot3, vlan }: Pick<LldpObjects, 'dot3' | 'vlan'>,
  index: string,
): Extensions {
  const whole = (column: SnmpObject, min: number, max: number) =>
    cellOf(walk, column, index, (cell, what) => integerOf(cell, what, [min, max])).value;
  const mau = whole(dot3.mau, 1, 65_535);
  const auto = whole(dot3.auto, 1, 2);
  const frameMaxBytes = whole(dot3.frameMax, 1, 65_535);
  const untaggedVlan = whole(vlan, 1, vlanMax);
  const offers = cellOf(walk, dot3.offers, index, octetsOf).value;
  const modes = offers === undefined ? [] : modesOffered(offers, mau);
  return {
    ...lineOf(mau),
    ...(auto === undefined ? {} : { autoNegotiation: auto === 1 }),
    ...(modes.length === 0 ? {} : { advertisedModes: modes }),
    ...(frameMaxBytes === undefined ? {} : { frameMaxBytes }),
    ...(untaggedVlan === undefined ? {} : { untaggedVlan }),
  };
}

function lineOf(mau: number | undefined): Extensions {
  const line = mau === undefined ? undefined : mauType(mau);
  if (line === undefined) return {};
  const { speedMbps, duplex, phy } = line;
  return {
    speedMbps,
    ...(duplex === undefined ? {} : { duplex }),
    ...(phy === undefined ? {} : { phyText: phy }),
  };
}

/** None where the order of the bits cannot be told: a wrong list is worse than no list. */
function modesOffered(octets: Uint8Array, mau: number | undefined): readonly string[] {
  const read = parseLldpCapability(octets, mau);
  const bits =
    read?.plausible === 'as-sent'
      ? read.asSent
      : read?.plausible === 'reversed'
        ? read.reversed
        : undefined;
  return (bits?.modes ?? []).flatMap((mode) => ethtoolModeName(mode) ?? []);
}
