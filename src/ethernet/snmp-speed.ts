import type { Gap } from '../facts/gap.ts';

/** What an agent says of one port's speed. */
export interface SnmpSpeedReading {
  /** ifOperStatus is up(1); absent: not read. */
  readonly operUp?: boolean;
  /** IF-MIB ifSpeed in bit/s; absent: not there. */
  readonly ifSpeed?: number;
  /** IF-MIB ifHighSpeed in units of 1,000,000 bit/s; absent: not there. */
  readonly ifHighSpeed?: number;
}

/** A speed with its source, or why it is not known. */
export type SnmpSpeed =
  | { readonly speedMbps: number; readonly source: 'IF-MIB ifHighSpeed' | 'IF-MIB ifSpeed' }
  | { readonly gap: Gap };

/** ifSpeed stands here when the true speed is higher (RFC 2863 3.1.7 and ifSpeed). */
const gaugeMax = 4_294_967_295;
/** No Ethernet is faster (1.6 Tb/s, IEEE 802.3dj, in draft); more is another unit. */
const speedMbpsMax = 1_600_000;

// Agents that compute in 32 bits drop the higher ones: 10 Gb/s comes out as 1410065408 bit/s,
// and as 1410 in ifHighSpeed (common practice). No wrapped ifSpeed is a whole number of Mb/s.
const wrappedHighSpeeds = new Set(
  [5, 10, 20, 25, 40, 50, 100, 200, 400, 800]
    .map((gbps) => (gbps * 1e9) % (gaugeMax + 1))
    .flatMap((bps) => [Math.floor(bps / 1e6), Math.round(bps / 1e6)]),
);

/**
 * The speed in Mb/s of a port as an agent tells it: ifHighSpeed where it can be believed, else
 * ifSpeed where that can; else why not. The speed of a port that is not up means nothing: RFC 3635
 * 3.2.8 lets it be the largest that the port can do.
 */
export function snmpSpeed(reading: SnmpSpeedReading): SnmpSpeed {
  const { operUp, ifSpeed, ifHighSpeed } = reading;
  if (operUp !== true) return gap('down', 'ifOperStatus is not up');
  if (ifSpeed === undefined && ifHighSpeed === undefined)
    return gap('unsupported', 'neither ifHighSpeed nor ifSpeed is there');
  return fromHighSpeed(ifHighSpeed, ifSpeed) ?? fromSpeed(ifSpeed, ifHighSpeed);
}

function fromHighSpeed(high: number | undefined, low: number | undefined): SnmpSpeed | undefined {
  if (high === undefined || high <= 0 || wrappedHighSpeeds.has(high)) return undefined;
  if (high > speedMbpsMax) return gap('doubtful', `ifHighSpeed ${high} is more than any Ethernet`);
  if (low === gaugeMax && high * 1e6 + 500_000 < gaugeMax)
    return gap('doubtful', `ifHighSpeed says ${high} and ifSpeed more than 4294`);
  return { speedMbps: high, source: 'IF-MIB ifHighSpeed' };
}

function fromSpeed(low: number | undefined, high: number | undefined): SnmpSpeed {
  const said = `ifHighSpeed ${high ?? 'missing'}, ifSpeed ${low ?? 'missing'}`;
  if (low === gaugeMax)
    return gap('doubtful', `${said}: more than 4294 Mb/s, how much is not said`);
  if (low !== undefined && low > 0 && low < gaugeMax && low % 1e6 === 0)
    return { speedMbps: low / 1e6, source: 'IF-MIB ifSpeed' };
  if ((low ?? 0) === 0 && (high ?? 0) === 0) return gap('unsupported', `${said}: not known`);
  return gap('doubtful', `${said}: no speed of an Ethernet`);
}

function gap(reason: Gap['reason'], words: string): SnmpSpeed {
  return { gap: { reason, words } };
}
