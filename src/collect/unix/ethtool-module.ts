import { monitorDbmMax, noLightDbm } from '../../ethernet/optical-power.ts';
import { type Phy, parsePhy } from '../../ethernet/phy.ts';
import { present, textLines } from './text.ts';

/** What `ethtool -m PORT` says of a module, as far as it was printed. */
export interface EthtoolModule {
  /** Its types, as printed, else what kind of module it says it is. Untrusted. */
  readonly text?: string;
  /** Physical layers of IEEE 802.3 that its types name. */
  readonly phys: readonly Phy[];
  /** Of a module with several lanes the weakest. -40 where it measures no light. */
  readonly rxPowerDbm?: number;
  readonly txPowerDbm?: number;
  readonly rxPowerLowDbm?: number;
  readonly rxPowerHighDbm?: number;
  readonly txPowerLowDbm?: number;
  readonly txPowerHighDbm?: number;
  readonly temperatureCelsius?: number;
}

type Line = readonly [name: string, value: string];

const linesMax = 512;
const typesMax = 8;

/** Reads the text of `ethtool -m PORT` for SFP (SFF-8472) and QSFP (SFF-8636) modules. */
export function parseEthtoolModule(output: string): EthtoolModule {
  const lines = linesOf(output);
  const types = values(lines, /^Transceiver type$/).slice(0, typesMax);
  const kind = values(lines, /^Identifier$/)[0]?.match(/^0x[0-9a-f]{2} \((.+)\)$/)?.[1];
  const text = types.length > 0 ? types.join('; ') : kind;
  return present<EthtoolModule>({
    text,
    phys: types.flatMap(physOf),
    rxPowerDbm: weakest(lines, /^(?:Receiver signal average|Rcvr signal avg) optical power/),
    txPowerDbm: weakest(lines, /^(?:Laser output power$|Transmit avg optical power)/),
    rxPowerLowDbm: weakest(lines, /^Laser rx power low warning threshold$/),
    rxPowerHighDbm: weakest(lines, /^Laser rx power high warning threshold$/),
    txPowerLowDbm: weakest(lines, /^Laser output power low warning threshold$/),
    txPowerHighDbm: weakest(lines, /^Laser output power high warning threshold$/),
    temperatureCelsius: celsius(values(lines, /^Module temperature$/)[0]),
  });
}

function linesOf(output: string): readonly Line[] {
  return textLines(output)
    .slice(0, linesMax)
    .flatMap((line): Line[] => {
      const [, name = '', value = ''] = /^\t([A-Z][^:]{0,60}):(.*)$/.exec(line) ?? [];
      return name === '' ? [] : [[name.trim(), value.trim()]];
    });
}

function values(lines: readonly Line[], pattern: RegExp): readonly string[] {
  return lines.flatMap(([name, value]) => (pattern.test(name) && value !== '' ? [value] : []));
}

/** `10G Ethernet: 10G Base-SR`, `Ethernet: 1000BASE-SX`, `Extended: 10Gbase-T Short Reach`. */
function physOf(type: string): readonly Phy[] {
  const named = type.matchAll(/\b(\d{1,4}(?:\.\d)?)(G?) ?base-([a-z0-9-]{1,8})(?![\w/-])/gi);
  return [...named].flatMap(([, number, giga = '', suffix = '']) => {
    return parsePhy(`${number}${giga}BASE-${suffix}`.toUpperCase()) ?? [];
  });
}

function weakest(lines: readonly Line[], pattern: RegExp): number | undefined {
  const printed = values(lines, pattern);
  const levels = printed.map(dbmOf);
  // The lowest of some lanes would be a guess at the lowest of all.
  const read = levels.filter((level) => level !== undefined);
  return read.length === 0 || read.length < printed.length ? undefined : Math.min(...read);
}

/** `0.5701 mW / -2.44 dBm`; undefined for a monitor that is full of ones, and for other text. */
function dbmOf(text: string): number | undefined {
  const [, level] = /^\d{1,4}\.\d{1,6} mW \/ (-inf|-?\d{1,3}\.\d{1,4}) dBm$/.exec(text) ?? [];
  if (level === undefined) return undefined;
  if (level === '-inf') return noLightDbm;
  return Number(level) < monitorDbmMax ? Math.max(Number(level), noLightDbm) : undefined;
}

function celsius(text: string | undefined): number | undefined {
  const degrees = /^(-?\d{1,3}\.\d{1,4}) degrees C\b/.exec(text ?? '')?.[1];
  return degrees === undefined ? undefined : Number(degrees);
}
