import type { Gap } from '../../facts/gap.ts';
import { byName } from '../../facts/order.ts';
import { portReadFacts } from '../../facts/port-facts.ts';
import type { PortSurvey } from '../../facts/survey.ts';
import type { Asker } from './asker.ts';
import { bulkTable, type Walk } from './bulk-table.ts';
import {
  ifStackStatus,
  objectText,
  type PortColumn,
  portColumns,
  walkedColumns,
} from './objects.ts';
import type { Pace } from './pace.ts';
import { cellReader, missing, rowIndexes } from './port-cells.ts';
import { layeredKinds } from './port-kind.ts';
import { readLayers } from './port-layers.ts';
import { mauFactSources, mauReader, mauValues } from './port-mau.ts';
import { type NamedRow, portNames } from './port-names.ts';
import { type PortValues, portFactSources, portValues } from './port-reading.ts';
import { unaskedGaps } from './system-reading.ts';
import { textOf } from './values.ts';

/** The ports of an agent, with sources and gaps that they share. */
export interface PortsReading {
  readonly ports: readonly PortSurvey[];
  readonly sources: Readonly<Record<string, string>>;
  readonly gaps: Readonly<Record<string, Gap>>;
  /** Why the list of ports may lack some; absent: it is whole. */
  readonly listGap?: Gap;
}

/** Reads the tables of ports. */
export async function readPorts(
  asker: Asker,
  { pace, rowsHint }: { readonly pace: Pace; readonly rowsHint?: number },
): Promise<PortsReading> {
  const walk = await bulkTable(asker, walkedColumns, {
    pace,
    ...(rowsHint === undefined ? {} : { rowsHint }),
  });
  const rows = rowIndexes(walk).flatMap((ifIndex) => namedRow(walk, ifIndex) ?? []);
  const names = portNames(rows);
  const mau = mauReader(walk);
  const values = new Map(
    rows.map(({ ifIndex }) => [
      ifIndex,
      portValues(ifIndex, cellReader(walk, ifIndex), (up) => mauValues(mau(ifIndex), up)),
    ]),
  );
  await addLayers(asker, { pace, names, values });
  const gaps = commonGaps([...values.values()]);
  const ports = rows.map(({ ifIndex }) =>
    portSurvey(names.get(ifIndex) ?? `#${ifIndex}`, values.get(ifIndex), gaps),
  );
  const listGap = listGapOf(walk);
  return {
    ports: ports.sort((a, b) => byName(a.name, b.name)),
    sources: {
      ifIndex: 'IF-MIB ifIndex (1.3.6.1.2.1.2.2.1.1)',
      ...factSources,
      lowerPorts: objectText(ifStackStatus),
    },
    gaps: { ...unaskedGaps(portReadFacts, factSources, asked, notKept), ...gaps },
    ...(listGap === undefined ? {} : { listGap }),
  };
}

/** What no agent keeps: beside ifMtu it has no second packet size that could be missing. */
const notKept = { driverMtuBytes: true };

const factSources = { ...portFactSources, ...mauFactSources };

/** Asked, and not in `factSources`. */
const asked = { ifIndex: true, lowerPorts: true };

/**
 * Undefined where the name was not reached: the port is left out, since under another name it
 * would look like one port gone and one new.
 */
function namedRow(walk: Walk, ifIndex: number): NamedRow | undefined {
  const cell = cellReader(walk, ifIndex);
  const ifName = cell('ifName', textOf);
  const ifDescr = cell('ifDescr', textOf);
  if (ifName.gap?.reason === 'truncated') return undefined;
  if (!ifName.value && ifDescr.gap?.reason === 'truncated') return undefined;
  return { ifIndex, ifName: ifName.value ?? '', ifDescr: ifDescr.value ?? '' };
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
  for (const [ifIndex, { facts, gaps }] of layered) {
    const lower = lowerPorts(ifIndex);
    if (lower.gap !== undefined) gaps['lowerPorts'] = lower.gap;
    else facts['lowerPorts'] = lower.value;
  }
}

function text(value: unknown): string | undefined {
  return typeof value === 'string' ? value : undefined;
}

/** The gap that most ports share, for each fact: said once for all of them. */
function commonGaps(ports: readonly PortValues[]): Readonly<Record<string, Gap>> {
  const common: Record<string, Gap> = {};
  for (const fact of Object.keys(factSources)) {
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
