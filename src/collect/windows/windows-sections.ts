import type { Gap } from '../../facts/gap.ts';
import type { Framed } from '../unix/frames.ts';
import { textOf } from '../unix/json-values.ts';
import { isGap } from '../unix/linux-evidence.ts';
import { type Row, rowsOf } from './rows.ts';

/** Rows of one section, or why there are none. */
export type Rows = readonly Row[] | Gap;

/** What one answer says of all adapters together, by section of the script. */
export interface WindowsSections {
  /** Get-NetAdapter. */
  readonly adapters: Rows;
  /** NetworkInterface of .NET: those that IP is bound to. */
  readonly interfaces: Rows;
  readonly registry: Rows;
  readonly ip: Rows;
  readonly addresses: Rows;
  readonly properties: Rows;
  readonly teams: Rows;
  readonly statistics: Rows;
  readonly hardware: Rows;
}

/** Takes an answer apart into the sections about adapters. */
export function windowsSections(framed: Framed): WindowsSections {
  return {
    adapters: rowsOf(framed, 'adapters'),
    interfaces: rowsOf(framed, 'interfaces'),
    registry: rowsOf(framed, 'registry'),
    ip: rowsOf(framed, 'ip'),
    addresses: rowsOf(framed, 'addresses'),
    properties: rowsOf(framed, 'properties'),
    teams: rowsOf(framed, 'teams'),
    statistics: rowsOf(framed, 'statistics'),
    hardware: rowsOf(framed, 'hardware', { part: 'rest' }),
  };
}

/** The rows of one adapter: one of each section, a gap where the section gave none. */
export interface WindowsEvidence {
  /** As printed. Untrusted. */
  readonly name: string;
  readonly adapter: Row | Gap | undefined;
  /** By .NET. */
  readonly own: Row | Gap | undefined;
  readonly registry: Row | Gap | undefined;
  readonly statistics: Row | Gap | undefined;
  readonly hardware: Row | Gap | undefined;
  /** The team that this is the interface of. */
  readonly team: Row | Gap | undefined;
  readonly sections: WindowsSections;
}

/** Adapters that one answer may name. */
const adaptersMax = 512;

/** Evidence on every adapter and interface that either source names, by name. */
export function windowsEvidence(sections: WindowsSections): ReadonlyMap<string, WindowsEvidence> {
  const found = new Map<string, WindowsEvidence>();
  const { adapters, interfaces } = sections;
  for (const row of [...listed(adapters), ...listed(interfaces)]) {
    const name = textOf(row['Name']);
    if (name === undefined || found.has(name) || found.size >= adaptersMax) continue;
    found.set(name, evidenceOf(name, sections));
  }
  return found;
}

function evidenceOf(name: string, sections: WindowsSections): WindowsEvidence {
  const named = (rows: Rows) => one(rows, (row) => row['Name'] === name);
  const adapter = named(sections.adapters);
  const own = named(sections.interfaces);
  const guid = guidOf(adapter, 'InterfaceGuid') ?? guidOf(own, 'Id');
  return {
    name,
    adapter,
    own,
    registry: one(
      sections.registry,
      (row) => guid !== undefined && guidOf(row, 'NetCfgInstanceId') === guid,
    ),
    statistics: named(sections.statistics),
    hardware: named(sections.hardware),
    team: one(sections.teams, (row) => textsOf(row['TeamNics']).includes(name)),
    sections,
  };
}

function listed(rows: Rows): readonly Row[] {
  return isGap(rows) ? [] : rows;
}

function one(rows: Rows, fits: (row: Row) => boolean): Row | Gap | undefined {
  return isGap(rows) ? rows : rows.find(fits);
}

function guidOf(row: Row | Gap | undefined, key: string): string | undefined {
  return cell(row, key, textOf)?.toLowerCase();
}

/** A value of a row where there is a row, read by `read`; undefined otherwise. */
export function cell<T>(
  row: Row | Gap | undefined,
  key: string,
  read: (value: unknown) => T | undefined,
): T | undefined {
  return row === undefined || isGap(row) ? undefined : read(row[key]);
}

/** Texts of a list, or the one text; PowerShell prints lists inside rows in several ways. */
export function textsOf(value: unknown): readonly string[] {
  if (typeof value === 'string') return [value];
  if (Array.isArray(value)) return value.filter((item) => typeof item === 'string');
  if (typeof value === 'object' && value !== null && 'value' in value) return textsOf(value.value);
  return [];
}
