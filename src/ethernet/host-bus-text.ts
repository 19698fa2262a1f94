import {
  type HostBus,
  type PcieGeneration,
  pcieGigatransfers,
  pcieLanes,
  usbSpeeds,
} from './host-bus.ts';

const speedText = /^(\d{1,3}(?:\.\d)?) GT\/s(?: PCIe)?$/;
const widthText = /^x?(\d{1,2})$/;
const usbText = /^[1-9]\d{1,4}$/;

const generations: readonly PcieGeneration[] = [1, 2, 3, 4, 5];

/**
 * A PCI Express link from its texts: sysfs `current_link_speed` (`8.0 GT/s PCIe`, `8 GT/s`) and
 * `current_link_width` (`4`), or the system report of macOS (`8.0 GT/s`, `x4`). Undefined for
 * `Unknown`, a width of 0, and rates that are not known here (64 GT/s).
 */
export function pcieFromText(speed: string, width: string): HostBus | undefined {
  const [, rate] = speedText.exec(speed) ?? [];
  const [, count] = widthText.exec(width) ?? [];
  if (rate === undefined || count === undefined) return undefined;
  const generation = generations.find((known) => pcieGigatransfers[known] === Number(rate));
  const lanes = pcieLanes.find((known) => known === Number(count));
  if (generation === undefined || lanes === undefined) return undefined;
  return { kind: 'pcie', generation, lanes };
}

/** A USB link from sysfs `speed` of its device (`480`, `5000`); undefined for any other rate. */
export function usbFromText(speed: string): HostBus | undefined {
  if (!usbText.test(speed)) return undefined;
  const speedMbps = usbSpeeds.find((known) => known === Number(speed));
  return speedMbps === undefined ? undefined : { kind: 'usb', speedMbps };
}

/**
 * The bus that a text of a survey names: `PCIe 8.0 GT/s x4`, `USB 5000 Mb/s`, `Thunderbolt 40
 * Gb/s`. Undefined: none that is known.
 */
export function busFromText(text: string): HostBus | undefined {
  const [, speed, width] = /^PCIe (\d{1,3}(?:\.\d)? GT\/s) (x\d{1,2})$/.exec(text) ?? [];
  if (speed !== undefined && width !== undefined) return pcieFromText(speed, width);
  const [, usb] = /^USB (\d{1,5}) Mb\/s$/.exec(text) ?? [];
  if (usb !== undefined) return usbFromText(usb);
  const [, gbps = ''] = /^Thunderbolt (\d{2}) Gb\/s$/.exec(text) ?? [];
  const version = thunderbolts[gbps];
  return version === undefined ? undefined : { kind: 'thunderbolt', version };
}

/** By link rate in Gb/s; 40 is version 3 or 4, and the weaker one is taken (from memory). */
const thunderbolts: Readonly<Record<string, 1 | 2 | 3>> = { 10: 1, 20: 2, 40: 3 };
