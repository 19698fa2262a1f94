import { firstGroup, textLines } from './text.ts';

/** The PCI Express link in use of a device, in the words of `pcieFromText`. */
export interface PciLink {
  /** `8.0 GT/s`. */
  readonly speed: string;
  /** `x4`. */
  readonly width: string;
}

const devicesMax = 1024;

/**
 * Reads `pciconf -lc` of FreeBSD (form: its source, `cap_express`): the link in use by the name of
 * the device. `link x4(x8) speed 5.0(8.0)` has in brackets what the device could do; of its slot
 * it says nothing.
 */
export function parsePciconf(output: string): ReadonlyMap<string, PciLink> {
  const links = new Map<string, PciLink>();
  let device: string | undefined;
  for (const line of textLines(output)) {
    if (/^\S/.test(line)) device = firstGroup(line, /^(\w{1,32})@pci/);
    const [, width, speed] = / link x(\d{1,2})\(x\d{1,2}\) speed (\d{1,2}\.\d)\(/.exec(line) ?? [];
    if (device === undefined || speed === undefined || links.size >= devicesMax) continue;
    if (!links.has(device)) links.set(device, { speed: `${speed} GT/s`, width: `x${width}` });
  }
  return links;
}
