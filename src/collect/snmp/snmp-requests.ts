import type { ReadTopic } from '../../facts/read-topics.ts';
import { ifStackStatus, portColumns, scalars } from './objects.ts';
import type { SnmpObject } from './snmp-object.ts';
import { topicTables } from './topic-tables.ts';

/** Objects that are asked for together, and what for. */
export interface RequestGroup {
  /** Absent: always. */
  readonly topics?: readonly ReadTopic[];
  readonly objects: readonly SnmpObject[];
}

/**
 * Every object that a reading can ask for: those always asked first, then table by table. Of two
 * tables that say the same only one is walked. `ifMauType` is asked for without a topic too, where a
 * slow port lacks its duplex. Nothing else is ever sent.
 */
export function snmpRequests(): readonly RequestGroup[] {
  const always = [...Object.values(scalars), ...Object.values(portColumns), ifStackStatus];
  return [
    { objects: always },
    ...topicTables.map(({ topics, columns }) => ({ topics, objects: columns })),
  ];
}
