/** What an agent calls one port. */
export interface NamedRow {
  readonly ifIndex: number;
  /** Cleaned; empty where there is none. */
  readonly ifName: string;
  readonly ifDescr: string;
}

/**
 * One name for each row, by ifIndex: ifName, else ifDescr. Where several rows share it, each
 * takes its ifDescr if no other row has that, else `name#ifIndex`. A row with neither text has no
 * name that would last, and gets `#ifIndex`.
 */
export function portNames(rows: readonly NamedRow[]): ReadonlyMap<number, string> {
  const names = rows.map((row) => row.ifName || row.ifDescr);
  const timesUsed = count([...names, ...rows.map((row) => row.ifDescr)]);
  const timesNamed = count(names);
  const pick = (row: NamedRow, name: string): string => {
    if (name !== '' && timesNamed.get(name) === 1) return name;
    const own = row.ifDescr !== '' && row.ifDescr !== name && timesUsed.get(row.ifDescr) === 1;
    return own ? row.ifDescr : `${name}#${row.ifIndex}`;
  };
  return new Map(rows.map((row, i) => [row.ifIndex, pick(row, names[i] ?? '')]));
}

function count(texts: readonly string[]): ReadonlyMap<string, number> {
  const times = new Map<string, number>();
  for (const text of texts) times.set(text, (times.get(text) ?? 0) + 1);
  return times;
}
