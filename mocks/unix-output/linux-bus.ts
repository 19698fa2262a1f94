import type { DescribedPort } from './described-host.ts';

/** Lines of `/sys` for the bus of a port: its own device, and for PCI Express the slot above it. */
export function busLines({ busText, busMaxMbps }: DescribedPort): readonly string[] {
  const usb = /^USB (\d+) Mb\/s$/.exec(busText ?? '')?.[1];
  if (usb !== undefined) return [`device/../speed:${usb}`];
  const [, speed, width] = /^PCIe (\d+\.\d GT\/s) x(\d+)$/.exec(busText ?? '') ?? [];
  if (speed === undefined) return [];
  // What slot and adapter could agree on: told here as a link of the third generation.
  const lanes =
    busMaxMbps === undefined ? undefined : Math.round((busMaxMbps / 8000) * (130 / 128));
  return ['device', 'device/..'].flatMap((at) => [
    `${at}/current_link_speed:${speed} PCIe`,
    `${at}/current_link_width:${width}`,
    ...(lanes === undefined
      ? []
      : [`${at}/max_link_speed:8.0 GT/s PCIe`, `${at}/max_link_width:${lanes}`]),
  ]);
}
