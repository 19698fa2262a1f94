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

/**
 * Reads the two lines `Current: autoselect` and `Active: 10Gbase-T <full-duplex,flow-control>` of
 * `-getMedia` as the one text that `ifconfig` has after `media:`. Options stand between commas or
 * blanks. Undefined where no medium is named.
 */
export function parseMediaSetting(output: string): string | undefined {
  const [set, active] = [/^Current: ?(.+)$/m, /^Active: ?(.+)$/m].map((pattern) =>
    mediumOf(firstGroup(output.slice(0, 1024), pattern)),
  );
  if (set === undefined) return undefined;
  return active === undefined || active === set ? set : `${set} (${active})`;
}

function mediumOf(text: string | undefined): string | undefined {
  const plain = text?.trim() ?? '';
  if (plain === '' || /^not set$/i.test(plain)) return undefined;
  const [, medium = plain, options] = /^([^\s<]+) +<?([^<>]+)>?$/.exec(plain) ?? [];
  return options === undefined
    ? plain
    : `${medium} <${options
        .trim()
        .split(/[,\s]+/)
        .join(',')}>`;
}

/** Services that one system may list. */
const servicesMax = 128;

/**
 * Devices in the order in which the system prefers their services, by `-listnetworkserviceorder`:
 * pairs of `(1) NAME` and `(Hardware Port: PORT, Device: en5)`. `(*)` marks a service that is
 * switched off, and an empty device one without a port. Untrusted.
 */
export function parseServiceOrder(output: string): readonly string[] {
  const devices = new Set<string>();
  let on = false;
  for (const line of textLines(output)) {
    if (/^\((?:\d{1,4}|\*)\) /.test(line)) on = !line.startsWith('(*)');
    const device = firstGroup(line, /^\(Hardware Port: .*, Device: (\S{1,64})\)$/);
    if (on && device !== undefined && devices.size < servicesMax) devices.add(device);
  }
  return [...devices];
}
