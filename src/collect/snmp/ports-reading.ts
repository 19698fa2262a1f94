import type { Gap } from '../../facts/gap.ts';
import { byName } from '../../facts/order.ts';
import { portReadFacts } from '../../facts/port-facts.ts';
import type { ReadTopic } from '../../facts/read-topics.ts';
import type { PortSurvey } from '../../facts/survey.ts';
import type { Asker } from './asker.ts';
import { bulkTable, type Walk } from './bulk-table.ts';
import { knownPorts } from './known-ports.ts';
import { ifStackStatus, mauColumns, type PortColumn, portColumns } from './objects.ts';
import type { Pace } from './pace.ts';
import { cellReader, missing, rowIndexes } from './port-cells.ts';
import { layeredKinds } from './port-kind.ts';
import { readLayers } from './port-layers.ts';
import { duplexOfMau, mauReader } from './port-mau.ts';
import { type NamedRow, portNames } from './port-names.ts';
import {
  operUpRead,
  type PortValues,
  portFactSources,
  portValues,
  putRead,
} from './port-reading.ts';
import { type PortTopics, portTopics } from './port-topics.ts';
import { objectText } from './snmp-object.ts';
import { unaskedGaps } from './system-reading.ts';
import { walkTopics } from './topic-walk.ts';
import { textOf } from './values.ts';

/** The ports of an agent, with sources and gaps that they share. */
export interface PortsReading extends Pick<PortTopics, 'neighbours' | 'forwarding'> {
  readonly ports: readonly PortSurvey[];
  readonly sources: Readonly<Record<string, string>>;
  readonly gaps: Readonly<Record<string, Gap>>;
  /** Why the list of ports may lack some; absent: it is whole. */
  readonly listGap?: Gap;
}

interface Around {
  readonly pace: Pace;
  readonly rowsHint?: number;
  readonly topics: ReadonlySet<ReadTopic>;
}

/** Reads the tables of ports, then those that the topics need. */
export async function readPorts(asker: Asker, around: Around): Promise<PortsReading> {
  const { pace, rowsHint, topics } = around;
  const walk = await bulkTable(asker, Object.values(portColumns), {
    pace,
    ...(rowsHint === undefined ? {} : { rowsHint }),
  });
  const rows = rowIndexes(walk).flatMap((ifIndex) => namedRow(walk, ifIndex) ?? []);
  const names = portNames(rows);
  const values = new Map(
    rows.map(({ ifIndex }) => [ifIndex, portValues(ifIndex, cellReader(walk, ifIndex))]),
  );
  // Before the topics: what a verdict needs first is read first.
  await addLayers(asker, { pace, names, values });
  const topicWalk = await walkTopics(asker, topics, {
    pace,
    ...(walk.failure === undefined ? {} : { ended: walk.failure }),
  });
  const more = portTopics(topicWalk, { ports: knownPorts(walk, names), topics });
  for (const [ifIndex, port] of values) putMore(port, ifIndex, more);
  await addDuplex(asker, values, { pace, walk: topics.has('media') ? topicWalk : walk });
  const sources = { ...portFactSources, ...more.sources };
  const gaps = commonGaps([...values.values()], Object.keys(sources));
  const ports = rows.map(({ ifIndex }) =>
    portSurvey(names.get(ifIndex) ?? `#${ifIndex}`, values.get(ifIndex), gaps),
  );
  const listGap = listGapOf(walk) ?? namelessGap(walk);
  return {
    ports: ports.sort((a, b) => byName(a.name, b.name)),
    sources: {
      ifIndex: 'IF-MIB ifIndex (1.3.6.1.2.1.2.2.1.1)',
      ...sources,
      lowerPorts: objectText(ifStackStatus),
    },
    gaps: { ...unaskedGaps(portReadFacts, sources, asked, notKept), ...more.unasked, ...gaps },
    neighbours: more.neighbours,
    forwarding: more.forwarding,
    ...(listGap === undefined ? {} : { listGap }),
  };
}

/** What no agent keeps: beside ifMtu it has no second packet size that could be missing. */
const notKept = { driverMtuBytes: true };

/** Asked, and not among the sources of other facts. */
const asked = { ifIndex: true, lowerPorts: true };

/**
 * Undefined where the name was not reached, or is none: the port is left out, since under another
 * name it would look like one port gone and one new.
 */
function namedRow(walk: Walk, ifIndex: number): NamedRow | undefined {
  const cell = cellReader(walk, ifIndex);
  const ifName = cell('ifName', textOf);
  const ifDescr = cell('ifDescr', textOf);
  if (isLost(ifName.gap) || (!ifName.value && isLost(ifDescr.gap))) return undefined;
  return { ifIndex, ifName: ifName.value ?? '', ifDescr: ifDescr.value ?? '' };
}

/** The agent has it, and it did not come. */
function isLost(gap: Gap | undefined): boolean {
  return gap?.reason === 'truncated' || gap?.reason === 'unreadable';
}

async function addLayers(
  asker: Asker,
  of: { pace: Pace; names: ReadonlyMap<number, string>; values: ReadonlyMap<number, PortValues> },
): Promise<void> {
  const layered = [...of.values].filter(([, { facts }]) =>
    layeredKinds.includes(text(facts['kind'])),
  );
  if (layered.length === 0) return;
  const lowerPorts = await readLayers(asker, of.pace, of.names);
  for (const [ifIndex, port] of layered) putRead(port, 'lowerPorts', lowerPorts(ifIndex));
}

function putMore(port: PortValues, ifIndex: number, more: PortTopics): void {
  for (const [fact, read] of Object.entries(more.of(ifIndex, operUpRead(port)))) {
    putRead(port, fact, read);
  }
  for (const [fact, { value, source }] of Object.entries(more.wide(ifIndex))) {
    delete port.gaps[fact];
    port.facts[fact] = value;
    port.sources[fact] = source;
  }
}

/** From here on there is no half duplex (common practice), and nothing to ask for. */
const alwaysFullAboveMbps = 1000;

/**
 * Whole families of agents do not tell the duplex, and their media do (common practice). The media
 * are asked for only where a port lacks its duplex, and were not read anyway.
 */
async function addDuplex(
  asker: Asker,
  values: ReadonlyMap<number, PortValues>,
  { pace, walk }: { readonly pace: Pace; readonly walk: Walk },
): Promise<void> {
  const without = [...values].filter(([, port]) => lacksDuplex(port));
  if (without.length === 0 || walk.failure !== undefined) return;
  const { ifMauType } = mauColumns;
  const media = walk.columns.has(ifMauType.oid)
    ? walk
    : await bulkTable(asker, [ifMauType], { pace });
  const mau = mauReader(media);
  for (const [ifIndex, port] of without) {
    const duplex = duplexOfMau(mau(ifIndex));
    // The reason why the first place has none says more than that the second has none either.
    if (duplex.gap !== undefined) continue;
    delete port.gaps['duplex'];
    port.facts['duplex'] = duplex.value;
    port.sources['duplex'] = objectText(ifMauType);
  }
}

function lacksDuplex({ facts, gaps }: PortValues): boolean {
  const { kind, operUp, speedMbps } = facts;
  const slow = typeof speedMbps !== 'number' || speedMbps <= alwaysFullAboveMbps;
  return kind === 'physical' && operUp === true && slow && gaps['duplex']?.reason === 'unsupported';
}

function text(value: unknown): string | undefined {
  return typeof value === 'string' ? value : undefined;
}

/** The gap that most ports share, for each fact: said once for all of them. */
function commonGaps(
  ports: readonly PortValues[],
  facts: readonly string[],
): Readonly<Record<string, Gap>> {
  const common: Record<string, Gap> = {};
  for (const fact of facts) {
    const times = new Map<string, { gap: Gap; count: number }>();
    for (const { gaps } of ports) {
      const gap = gaps[fact];
      if (gap === undefined) continue;
      const key = `${gap.reason} ${gap.words}`;
      times.set(key, { gap, count: (times.get(key)?.count ?? 0) + 1 });
    }
    const [most] = [...times.values()].sort((a, b) => b.count - a.count);
    if (most !== undefined) common[fact] = most.gap;
  }
  return common;
}

function portSurvey(
  name: string,
  values: PortValues | undefined,
  common: Readonly<Record<string, Gap>>,
): PortSurvey {
  const own = Object.entries(values?.gaps ?? {}).filter(
    ([fact, gap]) => common[fact]?.reason !== gap.reason || common[fact]?.words !== gap.words,
  );
  return {
    name,
    facts: values?.facts ?? {},
    ...(Object.keys(values?.sources ?? {}).length === 0 ? {} : { sources: values?.sources ?? {} }),
    ...(own.length === 0 ? {} : { gaps: Object.fromEntries(own) }),
  };
}

/** Rows may be missing unless the names, and one column that lists all ports, are whole. */
function listGapOf(walk: Walk): Gap | undefined {
  const column = (name: PortColumn) => walk.columns.get(portColumns[name].oid);
  const names = column('ifName');
  const nameColumn: PortColumn = names?.cut || names?.cells.size ? 'ifName' : 'ifDescr';
  if (column(nameColumn)?.cut) return missing(portColumns[nameColumn], column(nameColumn));
  const lists: readonly PortColumn[] = ['ifType', 'ifName', 'ifDescr'];
  const whole = lists.some((name) => !column(name)?.cut && (column(name)?.cells.size ?? 0) > 0);
  return whole ? undefined : missing(portColumns.ifType, column('ifType'));
}

/** Rows that were left out since what should be their name is none. */
function namelessGap(walk: Walk): Gap | undefined {
  for (const ifIndex of rowIndexes(walk)) {
    const cell = cellReader(walk, ifIndex);
    const lost = [cell('ifName', textOf).gap, cell('ifDescr', textOf).gap].find(isLost);
    if (lost !== undefined && namedRow(walk, ifIndex) === undefined) return lost;
  }
  return undefined;
}
