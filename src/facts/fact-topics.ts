import type { SubjectKind } from './dictionary.ts';
import type { ReadTopic } from './read-topics.ts';

/** Facts of one kind of subject, by name or by the start of their names, and what they rest on. */
interface Row {
  readonly kinds: readonly SubjectKind[];
  readonly names: RegExp;
  readonly topics: readonly ReadTopic[];
}

const rows: readonly Row[] = [
  {
    kinds: ['port', 'link', 'node'],
    names: /^(neighbour|foundOn|farEnd|between$|heard|macsBehind|undeclaredLinks|moved)/,
    topics: ['neighbours', 'forwarding'],
  },
  {
    kinds: ['port', 'link'],
    names: /^(un)?tagged(Vlans?|As)|^vlans?(?!Id)[A-Z]/,
    topics: ['vlans'],
  },
  // Which way is in use also follows from what was heard where.
  { kinds: ['port', 'link'], names: /^spanning/, topics: ['spanning-tree'] },
  {
    kinds: ['port', 'link', 'path', 'direction'],
    names: /^(inUse|blocked|way|bestWay|takesBestWay)/,
    topics: ['spanning-tree', 'aggregation', 'forwarding'],
  },
  {
    kinds: ['port', 'link'],
    names: /^(lacp|aggregate$|aggregate[A-Z]|aggregatorId|member(?!sDown))/,
    topics: ['aggregation'],
  },
  {
    kinds: ['port'],
    names:
      /^(phyText|mediaText|autoNegotiation|partnerAutoNegotiation|(supported|advertised|partner)Modes|(capable|advertised|partner)Mbps|speedCause|halfDuplexSuspect)$/,
    topics: ['media'],
  },
  // What a link can do follows from the modes and media of both ends.
  {
    kinds: ['link'],
    names:
      /^((rated|common|capable|runReach|runConditional)Mbps|capableEnd|run|modulesAgree|medium|limit|bothFixed$)/,
    topics: ['media'],
  },
  // What a ratio of errors or a power may be depends on the medium.
  {
    kinds: ['port'],
    names: /^(errorVerdict|errorRatio|errorLimitRatio)$/,
    topics: ['media', 'remote-errors'],
  },
  { kinds: ['port'], names: /^rxPower(Verdict|MarginDb)$/, topics: ['media', 'optics'] },
  {
    kinds: ['port'],
    names: /^((rx|tx)Power(Low|High)?Dbm|moduleTemperatureCelsius)$/,
    topics: ['optics'],
  },
  {
    kinds: ['port'],
    names:
      /^(rxOversize|rxFragments|rxJabbers|forwardTooLong|rxCrcErrors|rxAlignmentErrors|rxTooLong|rxSymbolErrors)$/,
    topics: ['remote-errors'],
  },
];

/**
 * What has to be read for a fact beyond what is read always: of a fact that is read, its own topic;
 * of a derived one, all that it may rest on. Empty: nothing.
 */
export function factTopics(kind: SubjectKind, fact: string): ReadonlySet<ReadTopic> {
  return new Set(
    rows.flatMap(({ kinds, names, topics }) =>
      kinds.includes(kind) && names.test(fact) ? topics : [],
    ),
  );
}
