import type { Asker } from '../collect/snmp/asker.ts';
import { bulkTable, type Walk } from '../collect/snmp/bulk-table.ts';
import type { Failure } from '../collect/snmp/failure.ts';
import { mauColumns } from '../collect/snmp/objects.ts';
import { oidIndex } from '../collect/snmp/oid.ts';
import { newPace } from '../collect/snmp/pace.ts';
import { portNames } from '../collect/snmp/port-names.ts';
import { macOf, textOf } from '../collect/snmp/values.ts';
import type { Gap } from '../facts/gap.ts';
import type { AgentPort } from './live-agent-look.ts';
import { nameObjects } from './live-objects.ts';

/** A port to look for: what it is called, and its MAC address where the intent has one. */
export interface WantedPort {
  readonly name: string;
  readonly mac?: string;
}

/** What was found of each wanted port, by its name. */
export type FoundPorts = ReadonlyMap<string, AgentPort | Gap>;

/** Finds the numbers of ports: by MAC address, name, description or alias, where one row has it. */
export async function findAgentPorts(
  asker: Asker,
  version: '2c' | '3',
  wanted: readonly WantedPort[],
): Promise<FoundPorts | Failure> {
  const walk = await bulkTable(asker, Object.values(nameObjects), { pace: newPace(version) });
  const rows = rowsOf(walk);
  if (walk.failure !== undefined && rows.length === 0) return walk.failure;
  const found = new Map<string, AgentPort | Gap>();
  for (const port of wanted) {
    const ifIndex = numberOf(rows, port);
    if (typeof ifIndex !== 'number') found.set(port.name, ifIndex);
    else {
      const medium = await mediumOf(asker, ifIndex);
      found.set(port.name, { ifIndex, ...(medium === undefined ? {} : { medium }) });
    }
  }
  return found;
}

interface Row {
  readonly ifIndex: number;
  readonly ifName: string;
  readonly ifDescr: string;
  readonly ifAlias: string;
  readonly mac?: string | undefined;
}

function rowsOf(walk: Walk): readonly Row[] {
  const column = (name: keyof typeof nameObjects) => walk.columns.get(nameObjects[name].oid)?.cells;
  const indexes = new Set(
    [...(column('ifName') ?? []), ...(column('ifDescr') ?? [])].map(([at]) => at),
  );
  const text = (name: keyof typeof nameObjects, at: string): string => {
    const cell = column(name)?.get(at);
    return (cell === undefined ? undefined : textOf(cell, name).value) ?? '';
  };
  return [...indexes].flatMap((at) => {
    if (!/^[1-9]\d{0,9}$/.test(at)) return [];
    const mac = column('ifPhysAddress')?.get(at);
    return {
      ifIndex: Number(at),
      ifName: text('ifName', at),
      ifDescr: text('ifDescr', at),
      ifAlias: text('ifAlias', at),
      mac: mac === undefined ? undefined : macOf(mac, 'ifPhysAddress').value,
    };
  });
}

function numberOf(rows: readonly Row[], { name, mac }: WantedPort): number | Gap {
  const names = portNames(rows);
  const ways: readonly ((row: Row) => boolean)[] = [
    (row) => names.get(row.ifIndex) === name,
    (row) => row.ifName === name,
    (row) => row.ifDescr === name,
    (row) => row.ifAlias === name,
    (row) => mac !== undefined && row.mac === mac,
  ];
  for (const way of ways) {
    const [row, other] = rows.filter(way);
    if (row !== undefined && other === undefined) return row.ifIndex;
  }
  return { reason: 'unsupported', words: `the agent shows no one port "${name}"` };
}

/** The one medium of a port; undefined where it shows none, or several of which one is in use. */
async function mediumOf(asker: Asker, ifIndex: number): Promise<number | undefined> {
  const column = `${mauColumns.ifMauAutoNegAdminStatus.oid}.${ifIndex}`;
  const first = await asker.next([column]);
  const index = first.ok ? oidIndex(column, first.value[0]?.[0]?.oid ?? '') : undefined;
  if (index === undefined || !/^\d{1,9}$/.test(index)) return undefined;
  const second = await asker.next([`${column}.${index}`]);
  if (!second.ok) return undefined;
  return oidIndex(column, second.value[0]?.[0]?.oid ?? '') === undefined
    ? Number(index)
    : undefined;
}
