import {
  busRange,
  type HostBus,
  pcieCodedMbps,
  pcieGigatransfers,
  usbCodedMbps,
} from './host-bus.ts';

/** How what a bus carries is reckoned, with the standard that it is reckoned by, in words. */
export function busArithmetic(bus: HostBus): string {
  switch (bus.kind) {
    case 'pcie': {
      const coding = bus.generation <= 2 ? '8/10' : '128/130';
      const lanes = bus.lanes === 1 ? '1 lane' : `${bus.lanes} lanes`;
      const coded = gigabits(pcieCodedMbps(bus.generation, bus.lanes));
      return `${pcieGigatransfers[bus.generation]} GT/s on ${lanes}, of which coding leaves ${coding}: ${coded} Gb/s, less the overhead of its packets; PCI Express Base Specification`;
    }
    case 'usb': {
      if (bus.speedMbps === 480) {
        const [least, most] = busRange(bus);
        return `480 Mb/s, of which polling leaves ${least} to ${most} Mb/s; USB 2.0, common practice`;
      }
      const coding = bus.speedMbps === 5000 ? '8/10' : '128/132';
      const coded = gigabits(usbCodedMbps(bus.speedMbps));
      return `${gigabits(bus.speedMbps)} Gb/s, of which coding leaves ${coding}: ${coded} Gb/s, less the overhead of its packets; USB 3.2`;
    }
    case 'thunderbolt':
      return thunderboltWords[bus.version];
  }
}

/** As `busRange` reckons them: secondary source. */
const thunderboltWords = {
  1: '10 Gb/s a channel, less the overhead of its packets',
  2: 'PCI Express 2.0 x4 behind it, 16 Gb/s, less the overhead of its packets',
  3: '16 Gb/s of data guaranteed and about 22 Gb/s in use',
  4: 'PCI Express 3.0 x4 behind it, less the overhead of its packets',
} as const;

function gigabits(mbps: number): string {
  return String(Math.round(mbps / 10) / 100);
}
