import { present, textLines, wholeNumber, words } from './text.ts';

/** Counters of one interface by `netstat -ibn`; absent where `-` is printed. */
export interface NetstatCounters {
  readonly rxFrames?: number;
  readonly rxErrors?: number;
  readonly rxOctets?: number;
  readonly txFrames?: number;
  readonly txErrors?: number;
  readonly txOctets?: number;
}

const columns = {
  Ipkts: 'rxFrames',
  Ierrs: 'rxErrors',
  Ibytes: 'rxOctets',
  Opkts: 'txFrames',
  Oerrs: 'txErrors',
  Obytes: 'txOctets',
} as const;

/**
 * Reads the `<Link#N>` rows of `netstat -ibn`. Columns are counted from the right, because the
 * address column is empty on interfaces without one.
 */
export function parseNetstatInterfaces(output: string): ReadonlyMap<string, NetstatCounters> {
  const [header = '', ...rows] = textLines(output);
  const titles = words(header);
  const byName = new Map<string, NetstatCounters>();
  for (const row of rows) {
    const cells = words(row);
    // Down interfaces end in `*`.
    const name = (cells[0] ?? '').replace(/\*$/, '');
    if (name === '' || !/^<Link#\d+>$/.test(cells[2] ?? '') || byName.has(name)) continue;
    const cell = (title: string) => {
      const at = titles.indexOf(title);
      return at < 0 ? undefined : wholeNumber(cells[cells.length - (titles.length - at)]);
    };
    const entries = Object.entries(columns).map(([title, fact]) => [fact, cell(title)]);
    byName.set(name, present<NetstatCounters>(Object.fromEntries(entries)));
  }
  return byName;
}
