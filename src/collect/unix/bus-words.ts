import {
  type HostBus,
  pcieCodedMbps,
  pcieGigatransfers,
  usbCodedMbps,
} from '../../ethernet/host-bus.ts';

type Told = Exclude<HostBus, { readonly kind: 'thunderbolt' }>;

/** A bus as the fact `busText` words it: `PCIe 8.0 GT/s x4`, `USB 5000 Mb/s`. */
export function busWords(bus: Told): string {
  if (bus.kind === 'usb') return `USB ${bus.speedMbps} Mb/s`;
  return `PCIe ${pcieGigatransfers[bus.generation].toFixed(1)} GT/s x${bus.lanes}`;
}

/** What a bus carries in one direction after line coding, in whole Mb/s, never rounded up. */
export function busCodedMbps(bus: Told): number {
  if (bus.kind === 'usb') return Math.floor(usbCodedMbps(bus.speedMbps));
  return Math.floor(pcieCodedMbps(bus.generation, bus.lanes));
}
