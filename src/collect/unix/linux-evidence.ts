import type { Gap } from '../../facts/gap.ts';
import { gap } from './draft.ts';
import { type EthtoolCounters, parseEthtoolCounters } from './ethtool-counters.ts';
import { parseEthtoolDriver, parseEthtoolDriverVersion } from './ethtool-driver.ts';
import { type EthtoolEee, parseEthtoolEee } from './ethtool-eee.ts';
import { parseEthtoolFec } from './ethtool-fec.ts';
import { type EthtoolModule, parseEthtoolModule } from './ethtool-module.ts';
import { type EthtoolPause, parseEthtoolPause } from './ethtool-pause.ts';
import { type Ethtool, parseEthtoolText } from './ethtool-text.ts';
import { type Framed, type Section, sectionKey } from './frames.ts';
import type { IfconfigLinux } from './ifconfig-linux.ts';
import type { IpLink } from './ip-link.ts';
import type { ProcBond } from './proc-bonding.ts';
import type { ProcVlan } from './proc-vlan.ts';
import { parseSysfs, type Sysfs } from './sysfs.ts';

/** All that the sections of one answer tell of one Linux port, before it is judged. */
export interface LinuxEvidence {
  readonly name: string;
  /** Absent where the system has no `ip`. */
  readonly link?: IpLink;
  readonly sysfs: Sysfs | Gap;
  readonly ethtool: Ethtool | Gap;
  readonly driver: string | Gap;
  readonly pause: EthtoolPause | Gap;
  readonly eee: EthtoolEee | Gap;
  readonly fec: string | Gap;
  readonly counters: EthtoolCounters | Gap;
  readonly module: EthtoolModule | Gap;
  /** Absent where `ip` told of the ports, and where there is no `ifconfig` either. */
  readonly ifconfig?: IfconfigLinux;
  /** Of a VLAN interface, where the kernel lists those. */
  readonly vlan?: ProcVlan;
  /** Of a bond. */
  readonly bond?: ProcBond;
  readonly driverVersion: string | Gap;
  /** Addresses with prefix length, link-local left out. */
  readonly addresses: readonly string[] | Gap;
  /** Ports that this one is built on. */
  readonly lower: readonly string[] | Gap;
}

/** Whether something that was looked for is a gap. */
export function isGap(value: object | string): value is Gap {
  return typeof value === 'object' && 'reason' in value && 'words' in value;
}

const truncated = gap('truncated', 'the answer ended before this');

/** What `/sys` says of a port, or why it says nothing. */
export function sysfsOf(framed: Framed, name: string, link: IpLink | undefined): Sysfs | Gap {
  const section = framed.sections.get(sectionKey('sysfs', name));
  if (section === undefined) return missing(framed, 'port not looked at one by one');
  if (section.output === '') return refusal(section);
  const sysfs = parseSysfs(section.output, section.words);
  // Without a single file, what is missing there is not known to be missing.
  if (sysfs.values.size === 0) return gap('unreadable', 'no file of /sys in what was printed');
  const index = sysfs.values.get('ifindex');
  // In a network namespace /sys may still show the ports of another one.
  if (link?.ifIndex !== undefined && index !== undefined && index !== String(link.ifIndex)) {
    return gap('unreadable', '/sys shows another network namespace than ip');
  }
  return sysfs;
}

/** What `ethtool PORT` says, or why it says nothing. */
export function ethtoolOf(framed: Framed, name: string, sysfs: Sysfs | Gap): Ethtool | Gap {
  const section = framed.sections.get(sectionKey('ethtool', name));
  if (section === undefined) return unaskedDevice(framed, sysfs);
  const ethtool = parseEthtoolText(section.output);
  return ethtool.fields.size === 0 ? refusal(section) : ethtool;
}

/** Driver by `ethtool -i`, or why there is none. */
export function driverOf(framed: Framed, name: string, sysfs: Sysfs | Gap): string | Gap {
  const section = framed.sections.get(sectionKey('ethtool-driver', name));
  if (section === undefined) return unaskedDevice(framed, sysfs);
  return parseEthtoolDriver(section.output) ?? refusal(section);
}

/** Version of the driver by `ethtool -i`, or why there is none. */
export function driverVersionOf(framed: Framed, name: string, sysfs: Sysfs | Gap): string | Gap {
  const section = framed.sections.get(sectionKey('ethtool-driver', name));
  if (section === undefined) return unaskedDevice(framed, sysfs);
  if (parseEthtoolDriver(section.output) === undefined) return refusal(section);
  const version = parseEthtoolDriverVersion(section.output);
  return version ?? gap('unsupported', 'ethtool -i prints no version');
}

/** What the further questions about one port brought, or why they brought nothing. */
export function lineEvidence(framed: Framed, name: string, sysfs: Sysfs | Gap) {
  const ask = <T>(section: string, parse: (output: string) => T | undefined): T | Gap => {
    const found = framed.sections.get(sectionKey(section, name));
    if (found === undefined) return unaskedDevice(framed, sysfs, 'rest');
    return parse(found.output) ?? refusal(found);
  };
  return {
    pause: ask('ethtool-pause', filled(parseEthtoolPause)),
    eee: ask('ethtool-eee', parseEthtoolEee),
    fec: ask('ethtool-fec', parseEthtoolFec),
    counters: countersOf(framed, name, sysfs),
    module: ask('ethtool-module', (output) => {
      const module = parseEthtoolModule(output);
      return Object.keys(module).length > 1 || module.phys.length > 0 ? module : undefined;
    }),
  };
}

/** Only chosen lines are kept of the counters, so that none is no refusal but no such counter. */
function countersOf(framed: Framed, name: string, sysfs: Sysfs | Gap): EthtoolCounters | Gap {
  const found = framed.sections.get(sectionKey('ethtool-counters', name));
  if (found === undefined) return unaskedDevice(framed, sysfs, 'rest');
  return found.words === '' ? parseEthtoolCounters(found.output) : refusal(found);
}

function filled<T extends object>(parse: (output: string) => T) {
  return (output: string): T | undefined => {
    const parsed = parse(output);
    return Object.keys(parsed).length > 0 ? parsed : undefined;
  };
}

function unaskedDevice(framed: Framed, sysfs: Sysfs | Gap, part: 'core' | 'rest' = 'core'): Gap {
  if (!isGap(sysfs) && (!sysfs.hasDevice || sysfs.wireless)) {
    return gap('unasked', 'asked only of wired ports with a device behind them');
  }
  const few = part === 'core' ? 'port not looked at one by one' : 'asked only of the first ports';
  return missing(framed, few, part);
}

/** Why a section that was to be there is not. */
export function missing(framed: Framed, whenWhole: string, part: 'core' | 'rest' = 'core'): Gap {
  const whole = part === 'core' ? framed.core : framed.whole;
  return whole ? gap('unasked', whenWhole) : truncated;
}

/** Words of the system and of sudo for what the account may not do. */
const notAllowed =
  /permission denied|not permitted|password is required|not allowed to|must have a tty/i;

/** Why a command gave nothing, in its own words. */
export function refusal(section: Section): Gap {
  const said = section.words || section.output || `status ${section.status} and no output`;
  if (section.status === 126 || notAllowed.test(said)) {
    return gap('denied', said);
  }
  const known =
    /not found|no such|not supported|no data|unknown option|invalid option|usage:|is unknown|\*\* error/i;
  return gap(section.status === 127 || known.test(said) ? 'unsupported' : 'unreadable', said);
}
