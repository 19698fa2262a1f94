import { firstGroup, mtuNumber, present, textLines, wholeNumber } from './text.ts';

/** Hardware ports by device name: the name that the system's settings show. Untrusted. */
export function parseHardwarePorts(output: string): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  let title: string | undefined;
  for (const line of textLines(output)) {
    if (/^VLAN Configurations/.test(line)) break;
    title = firstGroup(line, /^Hardware Port: (.+)$/) ?? title;
    const device = firstGroup(line, /^Device: (\S+)$/);
    if (device !== undefined && title !== undefined && names.size < 512) {
      names.set(device, title);
      title = undefined;
    }
  }
  return names;
}

/** Reads `Active MTU: 9000 (Current Setting: 9000)`. */
export function parseMtuSetting(output: string): {
  readonly activeBytes?: number;
  readonly settingBytes?: number;
} {
  const [, active, setting] =
    /^Active MTU: (\d+)(?: \(Current Setting: (\d+)\))?[ \t]*$/m.exec(output) ?? [];
  return present({
    activeBytes: mtuNumber(wholeNumber(active)),
    settingBytes: mtuNumber(wholeNumber(setting)),
  });
}

/** Reads `Valid MTU Range: 1280-9000`. */
export function parseMtuRange(output: string): {
  readonly minBytes?: number;
  readonly maxBytes?: number;
} {
  const [, min, max] = /^Valid MTU Range: (\d+)\s?-\s?(\d+)[ \t]*$/m.exec(output) ?? [];
  return present({
    minBytes: mtuNumber(wholeNumber(min)),
    maxBytes: mtuNumber(wholeNumber(max)),
  });
}
