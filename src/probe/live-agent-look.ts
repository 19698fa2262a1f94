import type { Varbind } from '../collect/snmp/agent-session.ts';
import { modesOf, truth } from '../collect/snmp/port-mau.ts';
import { adminUpOf, duplexStatusOf, mtuOf, operUpOf } from '../collect/snmp/port-reading.ts';
import type { SnmpObject } from '../collect/snmp/snmp-object.ts';
import { counterOf, integerOf, type Read, unsupported } from '../collect/snmp/values.ts';
import { snmpSpeed } from '../ethernet/snmp-speed.ts';
import { clockObject, lookObjects, mediumObjects } from './live-objects.ts';
import type { Known, LiveCount, LiveLook } from './live-types.ts';

/** One port of an agent by its numbers. */
export interface AgentPort {
  readonly ifIndex: number;
  /** Number of its medium (RFC 4836 ifMauIndex); absent: the agent shows none. */
  readonly medium?: number;
}

/** Values of one reply by their OID. */
export type Values = ReadonlyMap<string, Varbind>;

/** What is asked of a port with every look. */
export function oidsOf({ ifIndex, medium }: AgentPort): readonly string[] {
  const rows = Object.values(lookObjects).map(({ oid }) => `${oid}.${ifIndex}`);
  if (medium === undefined) return rows;
  return [...rows, ...Object.values(mediumObjects).map(({ oid }) => `${oid}.${ifIndex}.${medium}`)];
}

/** What a reply tells of one port. */
export function agentLook(port: AgentPort, values: Values): LiveLook {
  const { ifIndex, medium } = port;
  const cell = <T>(object: SnmpObject, read: (varbind: Varbind, what: string) => Read<T>) =>
    cellOf(object, values.get(`${object.oid}.${ifIndex}`), read);
  const mau = <T>(object: SnmpObject, read: (varbind: Varbind, what: string) => Read<T>) =>
    cellOf(object, values.get(`${object.oid}.${ifIndex}.${medium ?? ''}`), read);
  const up = cell(lookObjects.ifOperStatus, operUpOf);
  const counter = (object: SnmpObject) => counted(cell(object, counterOf));
  return {
    adminUp: cell(lookObjects.ifAdminStatus, adminUpOf),
    up,
    speedMbps: speedOf(up, {
      low: cell(lookObjects.ifSpeed, gauge),
      high: cell(lookObjects.ifHighSpeed, gauge),
    }),
    duplex: up.value === false ? down : cell(lookObjects.dot3StatsDuplexStatus, duplexStatusOf),
    autoNegotiation: mau(mediumObjects.ifMauAutoNegAdminStatus, truth),
    partnerModes:
      up.value === false ? down : mau(mediumObjects.ifMauAutoNegCapReceivedBits, modesOf),
    mtuBytes: cell(lookObjects.ifMtu, mtuOf),
    counters: {
      rxErrors: counter(lookObjects.ifInErrors),
      txErrors: counter(lookObjects.ifOutErrors),
      rxCrcErrors: counter(lookObjects.dot3StatsFCSErrors),
    },
    carrierChanges: { gap: unsupported('an agent does not count changes of the link') },
    changedAtSeconds: inSeconds(cell(lookObjects.ifLastChange, gauge)),
    discontinuity: inSeconds(cell(lookObjects.ifCounterDiscontinuityTime, gauge)),
  };
}

/** Seconds since the agent started, of sysUpTime. */
export function agentUpSeconds(values: Values): Known<number> {
  return inSeconds(cellOf(clockObject, values.get(clockObject.oid), gauge));
}

const down = { gap: { reason: 'down', words: 'ifOperStatus is not up' } } as const;

function gauge(varbind: Varbind, what: string): Read<number> {
  return integerOf(varbind, what, [0, 2 ** 32 - 1]);
}

function cellOf<T>(
  { name }: SnmpObject,
  varbind: Varbind | undefined,
  read: (varbind: Varbind, what: string) => Read<T>,
): Known<T> {
  if (varbind === undefined || isMissingValue(varbind)) {
    return { gap: unsupported(`the agent shows no ${name} for this port`) };
  }
  return read(varbind, name);
}

/** noSuchObject, noSuchInstance and endOfMibView in place of a value (RFC 3416, 3). */
function isMissingValue({ type }: Varbind): boolean {
  return type === 128 || type === 129 || type === 130;
}

function speedOf(
  up: Known<boolean>,
  { low, high }: { readonly low: Known<number>; readonly high: Known<number> },
): Known<number> {
  if (up.gap !== undefined) return up;
  const speed = snmpSpeed({
    operUp: up.value,
    ...(low.value === undefined ? {} : { ifSpeed: low.value }),
    ...(high.value === undefined ? {} : { ifHighSpeed: high.value }),
  });
  return 'gap' in speed ? speed : { value: speed.speedMbps };
}

/** TimeTicks are hundredths of a second (RFC 2578 7.1.8). */
function inSeconds(ticks: Known<number>): Known<number> {
  return ticks.gap === undefined ? { value: ticks.value / 100 } : ticks;
}

/** ifInErrors, ifOutErrors and dot3StatsFCSErrors are Counter32 (RFC 2863, RFC 3635). */
function counted(read: Known<number>): Known<LiveCount> {
  return read.gap === undefined ? { value: { count: BigInt(read.value), bits: 32 } } : read;
}
