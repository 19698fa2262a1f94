import { textLines } from './text.ts';

/** What `/sys/class/net/PORT` tells of one port. */
export interface Sysfs {
  /** Content by file name, such as `mtu` or `statistics/rx_bytes`. Untrusted. */
  readonly values: ReadonlyMap<string, string>;
  /** `DEVTYPE` of `uevent`: `vlan`, `bridge`, `bond`, `wlan`, ... */
  readonly deviceType?: string;
  /** There is a device behind it, such as a PCI card. */
  readonly hasDevice: boolean;
  readonly wireless: boolean;
  readonly bond: boolean;
  readonly bridge: boolean;
  /** Driver of the device. Untrusted. */
  readonly driver?: string;
  /** Interfaces that it is built on. Untrusted. */
  readonly lower: readonly string[];
  /** The system's words by file name, for files that could not be read. Untrusted. */
  readonly refused: ReadonlyMap<string, string>;
}

/** Reads the script's `sysfs` section: marks with `@`, then `file:content`. */
export function parseSysfs(output: string, words: string): Sysfs {
  const values = new Map<string, string>();
  const marks = new Set<string>();
  const lower = new Set<string>();
  let driver: string | undefined;
  let deviceType: string | undefined;
  for (const line of textLines(output)) {
    const [, mark, value] = /^@(\w+)(?: (.+))?$/.exec(line) ?? [];
    if (mark === 'lower' && value !== undefined) lower.add(value.replace(/^(?:lower_|brif\/)/, ''));
    else if (mark === 'driver') driver = value;
    else if (mark !== undefined) marks.add(mark);
    else {
      const [, file = '', content = ''] = /^([a-z_/.]+):(.*)$/.exec(line) ?? [];
      if (file === 'uevent') deviceType ??= /^DEVTYPE=(\w+)$/.exec(content)?.[1];
      else if (file !== '' && !values.has(file)) values.set(file, content);
    }
  }
  for (const member of (values.get('bonding/slaves') ?? '').split(' ')) {
    if (member !== '') lower.add(member);
  }
  return {
    values,
    hasDevice: marks.has('device'),
    wireless: marks.has('wireless'),
    bond: marks.has('bond'),
    bridge: marks.has('bridge'),
    lower: [...lower],
    refused: refusedFiles(words),
    ...(driver === undefined ? {} : { driver }),
    ...(deviceType === undefined ? {} : { deviceType }),
  };
}

function refusedFiles(words: string): ReadonlyMap<string, string> {
  const refused = new Map<string, string>();
  for (const line of textLines(words)) {
    const [, file, why] = /^grep: ([a-z_/.]+): (.+)$/.exec(line) ?? [];
    if (file !== undefined && why !== undefined) refused.set(file, why);
  }
  return refused;
}
