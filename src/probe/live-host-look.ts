import { foundOr, gap, type Settled } from '../collect/unix/draft.ts';
import { type Framed, sectionKey } from '../collect/unix/frames.ts';
import { type Ifconfig, parseIfconfigBsd } from '../collect/unix/ifconfig-bsd.ts';
import { parseMedia } from '../collect/unix/ifconfig-media.ts';
import { ethtoolOf, isGap, refusal, sysfsOf } from '../collect/unix/linux-evidence.ts';
import { linuxLine } from '../collect/unix/linux-line.ts';
import { linuxState, mtuFile, sysfsFile } from '../collect/unix/linux-port.ts';
import { parseNetstatInterfaces } from '../collect/unix/netstat-interfaces.ts';
import { decimalNumber } from '../collect/unix/text.ts';
import type { Gap } from '../facts/gap.ts';
import type { Known, LiveCount, LiveLook } from './live-types.ts';

/** What one answer of a Linux host tells of one port. */
export function linuxLook(framed: Framed, name: string): LiveLook | Gap {
  const sysfs = sysfsOf(framed, name, undefined);
  if (isGap(sysfs)) return sysfs;
  const ethtool = ethtoolOf(framed, name, sysfs);
  const state = linuxState({ sysfs });
  // What a port without hardware says of its line is shown, and marked as what it is.
  const line = linuxLine({ ethtool, sysfs }, { kind: 'physical', operUp: state.operUp });
  const file = (path: string) => counted(sysfsFile(sysfs, path));
  return {
    adminUp: known(state.adminUp),
    up: known(state.operUp),
    speedMbps: known(line.speedMbps),
    duplex: duplexOf(line.duplex),
    autoNegotiation: known(line.autoNegotiation),
    partnerModes: known(line.partnerModes),
    mtuBytes: known(mtuFile(sysfs)),
    counters: {
      rxErrors: file('statistics/rx_errors'),
      txErrors: file('statistics/tx_errors'),
      rxCrcErrors: file('statistics/rx_crc_errors'),
    },
    carrierChanges: known(sysfsFile(sysfs, 'carrier_changes')),
    changedAtSeconds: notTold('linux', 'since when the link is so'),
    discontinuity: notTold('linux', 'when it starts counters anew'),
    ...(sysfs.hasDevice ? {} : { virtual: true as const }),
  };
}

/** Seconds since a Linux host started, of `/proc/uptime`. */
export function linuxUpSeconds(framed: Framed): Known<number> {
  const section = framed.sections.get(sectionKey('uptime'));
  const value = decimalNumber(section?.output.split(' ')[0]);
  if (value !== undefined) return { value };
  return { gap: section === undefined ? cut : refusal(section) };
}

/** What one answer of a macOS or FreeBSD host tells of one port. */
export function bsdLook(framed: Framed, name: string, system: 'macos' | 'freebsd'): LiveLook | Gap {
  const section = framed.sections.get(sectionKey('ifconfig', name));
  if (section === undefined) return cut;
  const port = parseIfconfigBsd(section.output).find((each) => each.name === name);
  if (port === undefined) return refusal(section);
  const netstat = framed.sections.get(sectionKey('netstat', name));
  const counts = parseNetstatInterfaces(netstat?.output ?? '').get(name);
  const why = netstat === undefined ? cut : refusal(netstat);
  const errors = (value: number | undefined) => counted(foundOr(value, 'netstat', why));
  const adminUp = port.flags.includes('UP');
  return {
    adminUp: { value: adminUp },
    up: linkOf(port, adminUp),
    ...bsdLine(port, adminUp),
    partnerModes: notTold(system, 'what the far side offers'),
    mtuBytes: known(foundOr(port.mtuBytes, 'ifconfig', gap('unsupported', 'ifconfig has no mtu'))),
    counters: {
      rxErrors: errors(counts?.rxErrors),
      txErrors: errors(counts?.txErrors),
      rxCrcErrors: notTold(system, 'errors of the check sum apart'),
    },
    carrierChanges: notTold(system, 'how often the link changed'),
    changedAtSeconds: notTold(system, 'since when the link is so'),
    discontinuity: notTold(system, 'when it starts counters anew'),
  };
}

function linkOf(port: Ifconfig, adminUp: boolean): Known<boolean> {
  if (!adminUp) return { value: false };
  if (port.active !== undefined) return { value: port.active };
  return { gap: gap('unsupported', 'ifconfig prints no status') };
}

function bsdLine(port: Ifconfig, adminUp: boolean) {
  const link = linkOf(port, adminUp);
  if (link.value === false) return { speedMbps: down, duplex: down, autoNegotiation: down };
  const media = parseMedia(port.media ?? '');
  const why = gap('unsupported', `ifconfig has the medium "${port.media ?? ''}"`);
  const speed = port.linkRateMbps ?? media.speedMbps;
  return {
    speedMbps: known(foundOr(speed, 'ifconfig media', why)),
    duplex: duplexOf(foundOr(media.duplex, 'ifconfig media', why)),
    autoNegotiation: known(foundOr(media.autoNegotiation, 'ifconfig media', why)),
  };
}

const cut = gap('truncated', 'the answer ended before this');
const down = { gap: gap('down', 'no link') } as const;

function notTold(system: string, what: string): { readonly gap: Gap } {
  return { gap: gap('unsupported', `${system} does not tell ${what}`) };
}

function known<T>(read: Settled<T>): Known<T> {
  if (read === undefined) return { gap: gap('unsupported', 'the port has no such value') };
  return 'value' in read ? { value: read.value } : { gap: read };
}

function duplexOf(read: Settled<string>): Known<'full' | 'half'> {
  const duplex = known(read);
  if (duplex.gap !== undefined) return duplex;
  if (duplex.value === 'full' || duplex.value === 'half') return { value: duplex.value };
  return { gap: gap('unreadable', duplex.value) };
}

/** Kernels count in 64 bits, or in what the driver has, which is not told. */
function counted(read: Settled<number>): Known<LiveCount> {
  const value = known(read);
  return value.gap === undefined ? { value: { count: BigInt(value.value), bits: 64 } } : value;
}
