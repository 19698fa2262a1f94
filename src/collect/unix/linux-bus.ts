import type { HostBus, PcieGeneration, PcieLanes } from '../../ethernet/host-bus.ts';
import { pcieFromText, usbFromText } from '../../ethernet/host-bus-text.ts';
import type { Gap } from '../../facts/gap.ts';
import { busCodedMbps, busWords } from './bus-words.ts';
import { found, gap, type PortDraft, type Settled } from './draft.ts';
import { isGap } from './linux-evidence.ts';
import type { Sysfs } from './sysfs.ts';

/** Facts of the bus behind a port. */
export type BusFacts = Pick<PortDraft, 'busText' | 'busMbps' | 'busMaxMbps'>;

type Pcie = Extract<HostBus, { readonly kind: 'pcie' }>;

/** One device between the port and its processor. */
interface Hop {
  readonly now: Pcie;
  readonly best: Pcie | undefined;
}

const files = '/sys/class/net/*/device';

/** The bus of a Linux port by `/sys`: PCI Express as far up as it is told, or USB. */
export function linuxBus(sysfs: Sysfs | Gap): BusFacts {
  if (isGap(sysfs)) return alike(sysfs);
  if (!sysfs.hasDevice) return alike(gap('unasked', 'there is no device behind the port'));
  const usb = sysfs.values.get('device/speed') ?? sysfs.values.get('device/../speed');
  if (usb !== undefined) return usbFacts(usb);
  const speed = sysfs.values.get('device/current_link_speed');
  if (speed === undefined) {
    const why = sysfs.refused.get('device/current_link_speed');
    return alike(gap('unsupported', why ?? '/sys shows neither PCI Express nor USB behind it'));
  }
  return pcieFacts(sysfs, speed);
}

function alike(why: Gap): BusFacts {
  return { busText: why, busMbps: why, busMaxMbps: why };
}

function usbFacts(speed: string): BusFacts {
  // A device of version 1 says 12 or, at low speed, 1.5.
  if (!/^\d{1,5}(?:\.\d)?$/.test(speed)) return alike(gap('unreadable', `USB speed ${speed}`));
  const bus = usbFromText(speed);
  const source = `${files}/../speed`;
  return {
    busText: found(`USB ${speed} Mb/s`, source),
    busMbps:
      bus?.kind === 'usb'
        ? found(busCodedMbps(bus), source)
        : gap('unsupported', `no coding is known for USB at ${speed} Mb/s`),
    busMaxMbps: gap('unsupported', 'USB does not tell what its socket could do'),
  };
}

function pcieFacts(sysfs: Sysfs, speed: string): BusFacts {
  const width = sysfs.values.get('device/current_link_width') ?? '';
  const seen = `PCI Express link ${speed}, width ${width === '' ? 'not told' : width}`;
  if (sysfs.values.get('device/removable') === 'removable') {
    // A tunnel shows its own side of the link at the least that PCI Express has.
    return alike(gap('doubtful', `${seen}, of a device outside the case: a tunnel makes it up`));
  }
  const hops = hopsOf(sysfs);
  const [own] = hops;
  if (own === undefined) return alike(gap('unsupported', seen));
  const narrowest = hops.reduce((least, hop) => (mbps(hop.now) < mbps(least.now) ? hop : least));
  const where = narrowest === own ? files : `${files} and the bridges above it:`;
  const source = `${where} current_link_speed, current_link_width`;
  return {
    busText: found(busWords(narrowest.now), source),
    busMbps: found(mbps(narrowest.now), source),
    busMaxMbps: bestOf(hops),
  };
}

/** The devices from the port upwards whose links are told; a switch of them counts twice. */
function hopsOf(sysfs: Sysfs): readonly Hop[] {
  const hops: Hop[] = [];
  for (let at = 'device'; sysfs.values.has(`${at}/current_link_speed`); at = `${at}/..`) {
    const link = (which: 'current' | 'max') =>
      pcieOf(
        sysfs.values.get(`${at}/${which}_link_speed`),
        sysfs.values.get(`${at}/${which}_link_width`),
      );
    const now = link('current');
    const below = hops.length % 2 === 1 ? hops.at(-1) : undefined;
    // Above a link that is not told nothing is known, nor where its two ends tell it differently,
    // as under the bridges that a hypervisor makes up.
    if (now === undefined || (below !== undefined && mbps(below.now) !== mbps(now))) break;
    hops.push({ now, best: link('max') });
  }
  return hops;
}

function pcieOf(speed = '', width = ''): Pcie | undefined {
  const bus = pcieFromText(speed, width);
  return bus?.kind === 'pcie' ? bus : undefined;
}

function mbps(link: Pcie): number {
  return busCodedMbps(link);
}

/** Two neighbours share a link and agree on what both can; the weakest link is the answer. */
function bestOf(hops: readonly Hop[]): Settled<number> {
  const links: number[] = [];
  for (let i = 0; i < hops.length; i += 2) {
    const [lower, upper] = [hops[i]?.best, hops[i + 1]?.best];
    if (lower === undefined || upper === undefined) {
      return gap('unsupported', '/sys does not tell what slot and adapter could do');
    }
    links.push(mbps({ kind: 'pcie', ...lesser(lower, upper) }));
  }
  return found(Math.min(...links), `${files} max_link_speed, max_link_width`);
}

function lesser(
  a: Pcie,
  b: Pcie,
): { readonly generation: PcieGeneration; readonly lanes: PcieLanes } {
  return {
    generation: (a.generation < b.generation ? a : b).generation,
    lanes: (a.lanes < b.lanes ? a : b).lanes,
  };
}
