import type { FactValue } from '../../facts/entry.ts';
import type { Gap } from '../../facts/gap.ts';
import type { ReadTopic } from '../../facts/read-topics.ts';
import type { ForwardingReading, NeighbourReading } from '../../facts/survey.ts';
import { bridgePorts } from './bridge-ports.ts';
import { forwardingOf, type Listed } from './forwarding.ts';
import type { KnownPorts } from './known-ports.ts';
import { lldpNeighbours } from './lldp-neighbours.ts';
import { jackFactSources, jackReader } from './port-jack.ts';
import { lagFactSources, lagReader } from './port-lag.ts';
import { mauFactSources, mauReader, mauValues } from './port-mau.ts';
import { opticFactSources, opticsReader } from './port-optics.ts';
import { rmonFactSources, rmonReader, type WideCounter, wideCounters } from './port-rmon.ts';
import { bridgePortFact, bridgePortFactSources } from './port-spanning-tree.ts';
import { vlanFactSources, vlanReader } from './port-vlans.ts';
import type { TopicWalk } from './topic-walk.ts';
import type { Read } from './values.ts';

/** What the topics of a run add to the ports of an agent. */
export interface PortTopics {
  /** Facts of one port that were asked for, and why others of them are absent. */
  readonly of: (
    ifIndex: number,
    operUp: Read<boolean>,
  ) => Readonly<Record<string, Read<FactValue>>>;
  /** Why the facts of the other topics are absent, which is the same at every port. */
  readonly unasked: Readonly<Record<string, Gap>>;
  readonly wide: (ifIndex: number) => Readonly<Record<string, WideCounter>>;
  readonly sources: Readonly<Record<string, string>>;
  readonly neighbours: Listed<NeighbourReading>;
  readonly forwarding: Listed<ForwardingReading>;
}

const unasked: Gap = { reason: 'unasked', words: 'not asked for: nothing in force needs it' };
const { spanningTree, forwardTooLong } = bridgePortFactSources;

/** Port facts by the topic that brings them. */
const sourcesByTopic: readonly (readonly [ReadTopic, Readonly<Record<string, string>>])[] = [
  ['media', { ...mauFactSources, ...jackFactSources }],
  ['vlans', vlanFactSources],
  ['spanning-tree', { spanningTree: spanningTree ?? '' }],
  ['aggregation', lagFactSources],
  ['optics', opticFactSources],
  ['remote-errors', { ...rmonFactSources, forwardTooLong: forwardTooLong ?? '' }],
];

/** Reads the tables that were walked for the topics. */
export function portTopics(
  walk: TopicWalk,
  { ports, topics }: { readonly ports: KnownPorts; readonly topics: ReadonlySet<ReadTopic> },
): PortTopics {
  const bridge = bridgePorts(walk);
  const around = { ports, bridge };
  const mau = mauReader(walk);
  const jack = jackReader(walk);
  const lag = lagReader(walk, ports);
  const vlans = vlanReader(walk, bridge);
  const optics = opticsReader(walk, ports);
  const rmon = rmonReader(walk);
  const onBridge = (fact: 'spanningTree' | 'forwardTooLong', ifIndex: number) => ({
    [fact]: bridgePortFact(walk, { bridge, ifIndex }, fact),
  });
  const readers: Readonly<Partial<Record<ReadTopic, PortTopics['of']>>> = {
    media: (ifIndex, operUp) => ({ ...mauValues(mau(ifIndex), operUp), ...jack(ifIndex) }),
    vlans,
    'spanning-tree': (ifIndex) => onBridge('spanningTree', ifIndex),
    aggregation: lag,
    optics,
    'remote-errors': (ifIndex) => ({ ...rmon(ifIndex), ...onBridge('forwardTooLong', ifIndex) }),
  };
  const asked = sourcesByTopic.flatMap(([topic]) =>
    topics.has(topic) ? (readers[topic] ?? []) : [],
  );
  return {
    of: (ifIndex, operUp) => Object.assign({}, ...asked.map((read) => read(ifIndex, operUp))),
    unasked: Object.fromEntries(
      sourcesByTopic.flatMap(([topic, sources]) =>
        topics.has(topic) ? [] : Object.keys(sources).map((fact) => [fact, unasked]),
      ),
    ),
    wide: (ifIndex) => wideCounters(walk, ifIndex),
    sources: Object.assign({}, ...sourcesByTopic.map(([, sources]) => sources)),
    neighbours: topics.has('neighbours') ? lldpNeighbours(walk, around) : { gap: unasked },
    forwarding: topics.has('forwarding') ? forwardingOf(walk, around) : { gap: unasked },
  };
}
