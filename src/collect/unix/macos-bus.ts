import { pcieFromText, usbFromText } from '../../ethernet/host-bus-text.ts';
import type { Gap } from '../../facts/gap.ts';
import { busCodedMbps, busWords } from './bus-words.ts';
import { found, gap } from './draft.ts';
import type { BusFacts } from './linux-bus.ts';
import { isGap } from './linux-evidence.ts';
import type { ProfileItem } from './system-profile.ts';

/** The reports of macOS that tell of buses, each or why there is none. */
export interface BusReports {
  /** SPEthernetDataType. */
  readonly ethernet: readonly ProfileItem[] | Gap;
  /** SPPCIDataType. */
  readonly pci: readonly ProfileItem[] | Gap;
  /** SPThunderboltDataType. */
  readonly thunderbolt: readonly ProfileItem[] | Gap;
}

// The keys and words of these reports are from memory and from what others saw of them.
const usbWords: Readonly<Record<string, string>> = {
  high_speed: '480',
  super_speed: '5000',
  super_speed_plus: '10000',
};
const source = 'system_profiler';

/** The bus of a port of a macOS host. */
export function macosBus(name: string, reports: BusReports): BusFacts {
  const { ethernet, pci } = reports;
  if (isGap(ethernet)) return alike(ethernet);
  const item = ethernetDevice(name, ethernet);
  if (item === undefined) {
    return alike(gap('unsupported', 'the system reports no Ethernet device of that name'));
  }
  const usb = item.get('spethernetusbdevicespeed');
  if (usb !== undefined) return usbFacts(usb);
  if (isGap(pci)) return alike(pci);
  return pciFacts(item, pci, reports.thunderbolt);
}

/** The one device of the Ethernet report with this name; undefined where there is none, or two. */
export function ethernetDevice(
  name: string,
  ethernet: readonly ProfileItem[],
): ProfileItem | undefined {
  const [item, other] = ethernet.filter((one) =>
    [one.get('spethernetbsddevicename'), one.get('spethernetbsdname')].includes(name),
  );
  return other === undefined ? item : undefined;
}

function alike(why: Gap): BusFacts {
  return { busText: why, busMbps: why, busMaxMbps: why };
}

const noMaximum = gap('unsupported', 'macOS does not tell what slot and adapter could do');

function usbFacts(words: string): BusFacts {
  const bus = usbFromText(usbWords[words] ?? '');
  if (bus?.kind !== 'usb') return alike(gap('unsupported', `USB speed ${words}`));
  return {
    busText: found(busWords(bus), `${source} SPEthernetDataType`),
    busMbps: found(busCodedMbps(bus), `${source} SPEthernetDataType`),
    busMaxMbps: noMaximum,
  };
}

function pciFacts(
  item: ProfileItem,
  pci: readonly ProfileItem[],
  thunderbolt: readonly ProfileItem[] | Gap,
): BusFacts {
  const slots = pci.filter((card) => sameDevice(item, card));
  const tunnels = slots.filter((card) => /^Thunderbolt@/.test(card.get('sppcislotname') ?? ''));
  const [card] = slots;
  if (card === undefined || (tunnels.length > 0 && tunnels.length < slots.length)) {
    const words = 'no one PCI device of the report is certainly this adapter';
    return alike(gap('unsupported', words));
  }
  if (tunnels.length > 0) return thunderboltFacts(thunderbolt);
  const links = slots.map((one) => [
    one.get('sppcilinkspeed') ?? item.get('spethernetpcielinkspeed') ?? '',
    one.get('sppcilinkwidth') ?? item.get('spethernetpcielinkwidth') ?? '',
  ]);
  const told = [...new Set(links.map((link) => link.join(' ')))];
  const bus = pcieFromText(links[0]?.[0] ?? '', links[0]?.[1] ?? '');
  if (bus?.kind !== 'pcie' || told.length > 1) {
    return alike(gap('unsupported', `PCI Express link ${told.join(' or ')}`));
  }
  return {
    busText: found(busWords(bus), `${source} SPPCIDataType`),
    busMbps: found(busCodedMbps(bus), `${source} SPPCIDataType`),
    busMaxMbps: noMaximum,
  };
}

function sameDevice(item: ProfileItem, card: ProfileItem): boolean {
  const ids = ['vendorid', 'deviceid'] as const;
  return ids.every((id) => {
    const own = item.get(`spethernet${id}`);
    return own !== undefined && own === card.get(`sppci${id}`);
  });
}

/** `Up to 40 Gb/s` says what a socket could do; `40 Gb/s` at one that is in use is the link. */
function thunderboltFacts(thunderbolt: readonly ProfileItem[] | Gap): BusFacts {
  if (isGap(thunderbolt)) return alike(thunderbolt);
  const rates = thunderbolt.flatMap((item) => {
    const connected = /connected$/.test(item.get('receptaclestatuskey') ?? '');
    const unplugged = /no_devices|disconnected$/.test(item.get('receptaclestatuskey') ?? '');
    const rate = /^(\d{2}) Gb\/s$/.exec(item.get('currentspeedkey') ?? '')?.[1];
    return connected && !unplugged && rate !== undefined ? [rate] : [];
  });
  const [rate, other] = [...new Set(rates)];
  if (rate === undefined) return alike(gap('unsupported', 'no Thunderbolt link tells its rate'));
  if (other !== undefined) {
    const words = `Thunderbolt links of ${[...new Set(rates)].join(' and ')} Gb/s: which is not told`;
    return alike(gap('doubtful', words));
  }
  return {
    busText: found(`Thunderbolt ${rate} Gb/s`, `${source} SPThunderboltDataType`),
    busMbps: gap(
      'unsupported',
      'how much of a Thunderbolt link is left for the adapter is not told',
    ),
    busMaxMbps: noMaximum,
  };
}
