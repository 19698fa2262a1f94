import type { ReadTopic } from '../../facts/read-topics.ts';
import { bridgeColumns, stationColumns, vlanColumns } from './bridge-objects.ts';
import { rmonColumns, wideColumns } from './counter-objects.ts';
import { entityColumns } from './entity-objects.ts';
import { lagColumns } from './lag-objects.ts';
import { type LldpObjects, lldpObjects, lldpV2Objects } from './lldp-objects.ts';
import { ifJackType, mauColumns } from './objects.ts';
import type { SnmpObject } from './snmp-object.ts';

/** Stations that are told apart on one switch. */
export const stationsMax = 20_000;
/** Neighbours, and addresses of neighbours, of one switch. */
export const neighboursMax = 4096;

/** A table that a topic needs. */
export interface TopicTable {
  readonly topics: readonly ReadTopic[];
  /** The first is there for each row that matters: by it the table is looked for. */
  readonly columns: readonly [SnmpObject, ...SnmpObject[]];
  /** Walked only where the table of this column has no rows. */
  readonly insteadOf?: SnmpObject;
  /** Walked only where the table of this column has rows too. */
  readonly beside?: SnmpObject;
  /** Rows of each column, at most; absent: `rowsPerColumnMax`. */
  readonly rowsMax?: number;
}

const { dot1dBasePortIfIndex, dot1dBasePortMtuExceededDiscards, dot1dStpPortState } = bridgeColumns;
const {
  dot1qPvid,
  dot1qVlanCurrentEgressPorts,
  dot1qVlanCurrentUntaggedPorts,
  dot1qVlanStaticEgressPorts,
  dot1qVlanStaticUntaggedPorts,
} = vlanColumns;
const { dot3adAggPortListPorts, ...memberColumns } = lagColumns;
const { ifMauType, ...negotiationColumns } = mauColumns;
const sensors = entityColumns;

/** Tables of the topics, in the order in which they are read: the longest last. */
export const topicTables: readonly TopicTable[] = [
  {
    topics: ['neighbours', 'forwarding', 'vlans', 'spanning-tree', 'remote-errors'],
    columns: [dot1dBasePortIfIndex],
  },
  { topics: ['spanning-tree'], columns: [dot1dStpPortState] },
  {
    topics: ['aggregation'],
    columns: columnsOf(memberColumns, memberColumns.dot3adAggPortAttachedAggID),
  },
  {
    topics: ['aggregation'],
    columns: [dot3adAggPortListPorts],
    insteadOf: memberColumns.dot3adAggPortAttachedAggID,
  },
  { topics: ['media'], columns: [ifMauType] },
  { topics: ['media'], columns: [ifJackType], beside: ifMauType },
  {
    topics: ['media'],
    columns: columnsOf(negotiationColumns, negotiationColumns.ifMauAutoNegAdminStatus),
  },
  ...lldpTables(lldpObjects),
  ...lldpTables(lldpV2Objects, lldpObjects.remote.chassis),
  { topics: ['vlans'], columns: [dot1qPvid] },
  { topics: ['vlans'], columns: [dot1qVlanCurrentEgressPorts, dot1qVlanCurrentUntaggedPorts] },
  {
    topics: ['vlans'],
    columns: [dot1qVlanStaticEgressPorts, dot1qVlanStaticUntaggedPorts],
    insteadOf: dot1qVlanCurrentEgressPorts,
  },
  { topics: ['remote-errors'], columns: [dot1dBasePortMtuExceededDiscards] },
  {
    topics: ['remote-errors'],
    columns: columnsOf(rmonColumns, rmonColumns.etherStatsDataSource),
  },
  {
    topics: ['remote-errors'],
    columns: columnsOf(wideColumns, wideColumns.dot3HCStatsFCSErrors),
  },
  {
    topics: ['optics'],
    columns: [
      sensors.entPhySensorType,
      sensors.entPhySensorScale,
      sensors.entPhySensorPrecision,
      sensors.entPhySensorValue,
      sensors.entPhySensorOperStatus,
      sensors.entPhySensorUnitsDisplay,
    ],
  },
  {
    topics: ['optics'],
    columns: [
      sensors.entPhysicalContainedIn,
      sensors.entPhysicalClass,
      sensors.entPhysicalName,
      sensors.entPhysicalDescr,
    ],
    beside: sensors.entPhySensorType,
  },
  {
    topics: ['optics'],
    columns: [sensors.entAliasMappingIdentifier],
    beside: sensors.entPhySensorType,
  },
  {
    topics: ['forwarding'],
    columns: [stationColumns.dot1qVlanFdbId],
    beside: stationColumns.dot1qTpFdbPort,
  },
  {
    topics: ['forwarding'],
    columns: [stationColumns.dot1qTpFdbPort, stationColumns.dot1qTpFdbStatus],
    rowsMax: stationsMax,
  },
  {
    topics: ['forwarding'],
    columns: [stationColumns.dot1dTpFdbPort, stationColumns.dot1dTpFdbStatus],
    insteadOf: stationColumns.dot1qTpFdbPort,
    rowsMax: stationsMax,
  },
];

/** The presence table is looked for, and walked where local numbers are no ifIndex. */
function lldpTables(objects: LldpObjects, insteadOf?: SnmpObject): readonly TopicTable[] {
  const { remote, address, dot3, vlan, local, presence } = objects;
  const common = {
    topics: ['neighbours'] as const,
    rowsMax: neighboursMax,
    ...(insteadOf === undefined ? {} : { insteadOf }),
  };
  return [
    { ...common, columns: columnsOf(remote, remote.chassis) },
    {
      ...common,
      columns: local === undefined ? [presence] : columnsOf(local, local.kind),
      beside: remote.chassis,
    },
    { ...common, columns: [address], beside: remote.chassis },
    { ...common, columns: [dot3.mau, dot3.auto, dot3.offers], beside: remote.chassis },
    { ...common, columns: [dot3.frameMax], beside: remote.chassis },
    { ...common, columns: [vlan], beside: remote.chassis },
  ];
}

function columnsOf(
  columns: Readonly<Record<string, SnmpObject>>,
  first: SnmpObject,
): readonly [SnmpObject, ...SnmpObject[]] {
  return [first, ...Object.values(columns).filter(({ oid }) => oid !== first.oid)];
}
