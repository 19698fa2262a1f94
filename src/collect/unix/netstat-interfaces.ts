import { firstGroup, present, textLines, wholeNumber, words } from './text.ts';

/** Counters of one interface by `netstat -ibn`; absent where `-` is printed. */
export interface NetstatCounters {
  readonly ifIndex?: number;
  readonly rxFrames?: number;
  readonly rxErrors?: number;
  readonly rxOctets?: number;
  readonly txFrames?: number;
  readonly txErrors?: number;
  readonly txOctets?: number;
  /** FreeBSD only. */
  readonly rxDropped?: number;
  /** Only with `-d`. */
  readonly txDropped?: number;
}

const columns = {
  Ipkts: 'rxFrames',
  Ierrs: 'rxErrors',
  Ibytes: 'rxOctets',
  Opkts: 'txFrames',
  Oerrs: 'txErrors',
  Obytes: 'txOctets',
  Idrop: 'rxDropped',
  Drop: 'txDropped',
} as const;

/**
 * Reads the `<Link#N>` rows of `netstat -ibn` (macOS) and `netstat -ibdnW` (FreeBSD). Columns are counted from the right, because the
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
    const ifIndex = firstGroup(cells[2] ?? '', /^<Link#(\d+)>$/);
    if (name === '' || ifIndex === undefined || byName.has(name)) continue;
    const cell = (title: string) => {
      const at = titles.indexOf(title);
      return at < 0 ? undefined : wholeNumber(cells[cells.length - (titles.length - at)]);
    };
    const entries = Object.entries(columns).map(([title, fact]) => [fact, cell(title)]);
    const counters = { ...Object.fromEntries(entries), ifIndex: wholeNumber(ifIndex) };
    byName.set(name, present<NetstatCounters>(counters));
  }
  return byName;
}
