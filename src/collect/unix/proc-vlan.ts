import { textLines, wholeNumber } from './text.ts';

/** A VLAN interface by `/proc/net/vlan/config`. */
export interface ProcVlan {
  readonly id: number;
  /** Port that it stands on. Untrusted. */
  readonly lower: string;
}

const vlansMax = 4096;

/** Reads `/proc/net/vlan/config`, by name: `eth0.20        | 20  | eth0`. */
export function parseProcVlan(output: string): ReadonlyMap<string, ProcVlan> {
  const vlans = new Map<string, ProcVlan>();
  for (const line of textLines(output).slice(0, vlansMax)) {
    const [, name = '', number, lower = ''] =
      /^(\S+) *\| (\d{1,4}) *\| (\S+)$/.exec(line.trim()) ?? [];
    const id = wholeNumber(number);
    if (name !== '' && id !== undefined && id <= 4095) vlans.set(name, { id, lower });
  }
  return vlans;
}
