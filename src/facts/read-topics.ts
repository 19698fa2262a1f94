/**
 * What a node is asked only when something needs it, since it costs: requests at a switch, or time
 * at a host. All else is read always.
 *
 * - `neighbours`     who announces itself at the ports (LLDP)
 * - `forwarding`     which stations were heard behind which port
 * - `vlans`          which VLANs a port carries, tagged or not
 * - `spanning-tree`  whether a port forwards
 * - `aggregation`    LACP states of members
 * - `media`          negotiation as each end offers it (MAU-MIB)
 * - `optics`         light and temperature of modules (sensor tables of switches)
 * - `remote-errors`  counters of RMON and of frames too long to forward
 */
export const readTopics = [
  'neighbours',
  'forwarding',
  'vlans',
  'spanning-tree',
  'aggregation',
  'media',
  'optics',
  'remote-errors',
] as const;
/** What a node is asked only when something needs it. */
export type ReadTopic = (typeof readTopics)[number];
/** Everything, for commands that look at all there is. */
export const everyTopic: ReadonlySet<ReadTopic> = new Set(readTopics);
