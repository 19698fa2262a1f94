import { isIP } from 'node:net';
import { present } from '../collect/unix/text.ts';
import { ipHeaderBytes, tcpHeaderBytes, tcpTimestampsBytes } from '../ethernet/goodput.ts';
import type { MissedMeeting, TransferRun, TransferSide } from './run-transfer.ts';
import type { EndReport, TransferCpu, TransferFlow } from './transfer-types.ts';

/** What one end brought. */
export interface MeasuredEnd {
  readonly node: string;
  /** As `uname -s` says. */
  readonly system: string;
  readonly tool: string;
  /** Absent: its system tells none. */
  readonly cpu?: TransferCpu;
}

/** User data that had arrived, some ms after the first byte. */
export interface Arrived {
  readonly ms: number;
  readonly bytes: number;
}

/** What a transfer in one direction has shown. */
export interface TransferMeasured {
  /** False: it was ended before its end, and the figures are of what had passed by then. */
  readonly whole: boolean;
  /** What ended the sending; absent where it is not known. */
  readonly endedBy?: 'time' | 'cap';
  readonly listener: TransferSide;
  readonly missed: readonly MissedMeeting[];
  readonly streams: number;
  /** At the receiver, from its first byte to its last. */
  readonly bytes: number;
  readonly tookSeconds: number;
  readonly goodputMbps: number;
  readonly arrived: readonly Arrived[];
  /** The packet that was really used; absent: no kernel tells. */
  readonly packet?: {
    readonly bytes: number;
    readonly segmentBytes: number;
    readonly timestamps: boolean;
  };
  /** User data that the sender's kernel sent, and sent again. */
  readonly transmitted?: {
    readonly transmittedBytes: number;
    readonly retransmittedBytes: number;
    /** Whether the kernel counts bytes, or segments that were multiplied by their size. */
    readonly counted: 'bytes' | 'segments';
  };
  /** Least round trip before the load, and who took it. */
  readonly idle?: { readonly ms: number; readonly by: 'kernel' | 'program' };
  /** Round trip at the sender under load, one a second. */
  readonly loadedMs: readonly number[];
  /** Share of its busy time in which the sender waited for the receiver's window, or its own buffer. */
  readonly waited?: { readonly window: number; readonly buffer: number };
  readonly from: MeasuredEnd;
  readonly to: MeasuredEnd;
  /** Why a value above is absent, by its name. */
  readonly absent: Readonly<Record<string, string>>;
}

interface Names {
  readonly from: string;
  readonly to: string;
  /** Literal address that was sent to. */
  readonly toAddress: string;
}

/** The figures of a run; undefined: nothing arrived that could be counted. */
export function measuredOf(run: TransferRun, names: Names): TransferMeasured | undefined {
  if (!run.ok) return undefined;
  const { from, to } = run;
  const arrived = to.ticks.map(({ ms, bytes }) => ({ ms, bytes }));
  const last = arrived.at(-1);
  const got = to.got ?? (last && { us: last.ms * 1000, bytes: last.bytes, cut: true });
  if (got === undefined || got.us <= 0 || got.bytes <= 0) return undefined;
  const packet = packetOf(from, to, isIP(names.toAddress) === 6 ? 6 : 4);
  const transmitted = transmittedOf(from, got.bytes);
  const idle = idleOf(from, to);
  const loadedMs = from.ticks.flatMap(({ rttUs }) => (rttUs === undefined ? [] : [rttUs / 1000]));
  const waited = waitedOf(from.flows);
  const own = { ms: Math.round(got.us / 1000), bytes: got.bytes };
  return {
    ...present<Partial<TransferMeasured>>({
      packet,
      transmitted,
      idle,
      waited,
      endedBy: endOf(from),
    }),
    whole: to.got !== undefined && !got.cut && !run.interrupted,
    listener: run.listener,
    missed: run.missed,
    streams: run.streams,
    bytes: got.bytes,
    tookSeconds: got.us / 1e6,
    goodputMbps: (got.bytes * 8) / got.us,
    arrived: last === undefined || own.ms > last.ms ? [...arrived, own] : arrived,
    loadedMs,
    from: endOfNode(names.from, from),
    to: endOfNode(names.to, to),
    absent: {
      ...(packet === undefined ? { packet: tellsNot(from, 'the size of its segments') } : {}),
      ...(transmitted === undefined ? { transmitted: tellsNot(from, 'what was sent again') } : {}),
      ...(idle === undefined
        ? { idle: 'nc answers nothing by which a round trip could be taken' }
        : {}),
      ...(loadedMs.length === 0 ? { loadedMs: noRtt(from) } : {}),
      ...(from.cpu === undefined ? { 'from.cpu': noCpu(from) } : {}),
      ...(to.cpu === undefined ? { 'to.cpu': noCpu(to) } : {}),
    },
  };
}

function endOf({ sent }: EndReport): 'time' | 'cap' | undefined {
  return sent?.by;
}

function endOfNode(node: string, { system, tool, cpu }: EndReport): MeasuredEnd {
  const told = cpu === undefined || Object.keys(cpu).length === 0 ? {} : { cpu };
  return { node, system: system ?? 'not told', tool: tool ?? 'nothing', ...told };
}

function packetOf(from: EndReport, to: EndReport, ipVersion: 4 | 6): TransferMeasured['packet'] {
  const flow = [...from.flows, ...to.flows].find(
    ({ segmentBytes, timestamps }) => segmentBytes !== undefined && timestamps !== undefined,
  );
  if (flow?.segmentBytes === undefined || flow.timestamps === undefined) return undefined;
  const { segmentBytes, timestamps } = flow;
  const headers = ipHeaderBytes(ipVersion) + tcpHeaderBytes + (timestamps ? tcpTimestampsBytes : 0);
  return { bytes: segmentBytes + headers, segmentBytes, timestamps };
}

function transmittedOf({ flows }: EndReport, bytes: number): TransferMeasured['transmitted'] {
  if (flows.length === 0) return undefined;
  const sent = sumOf(flows, ({ sentBytes }) => sentBytes);
  const again = sumOf(flows, ({ resentBytes }) => resentBytes);
  if (sent !== undefined && again !== undefined && sent > 0) {
    return { transmittedBytes: sent, retransmittedBytes: again, counted: 'bytes' };
  }
  const resent = sumOf(flows, ({ resentSegments, segmentBytes }) =>
    resentSegments === undefined || segmentBytes === undefined
      ? undefined
      : resentSegments * segmentBytes,
  );
  if (resent === undefined) return undefined;
  return {
    transmittedBytes: bytes + resent,
    retransmittedBytes: resent,
    counted: 'segments',
  };
}

/** Of all flows; undefined where one of them does not tell. */
function sumOf(
  flows: readonly TransferFlow[],
  read: (flow: TransferFlow) => number | undefined,
): number | undefined {
  let sum = 0;
  for (const flow of flows) {
    const value = read(flow);
    if (value === undefined) return undefined;
    sum += value;
  }
  return sum;
}

/** The kernel's own where one tells: the program's has the time of two wake-ups in it. */
function idleOf(from: EndReport, to: EndReport): TransferMeasured['idle'] {
  const kernel = [from.idleUs, to.idleUs].flatMap((us) =>
    us === undefined || us === 0 ? [] : [us],
  );
  if (kernel.length > 0) return { ms: Math.min(...kernel) / 1000, by: 'kernel' };
  const program = [from.echoUs, to.echoUs].find((us) => us !== undefined && us > 0);
  return program === undefined ? undefined : { ms: program / 1000, by: 'program' };
}

function waitedOf(flows: readonly TransferFlow[]): TransferMeasured['waited'] {
  const busy = sumOf(flows, ({ busyUs }) => busyUs);
  const window = sumOf(flows, ({ windowUs }) => windowUs);
  const buffer = sumOf(flows, ({ bufferUs }) => bufferUs);
  if (busy === undefined || window === undefined || buffer === undefined || busy <= 0)
    return undefined;
  return { window: Math.min(1, window / busy), buffer: Math.min(1, buffer / busy) };
}

function tellsNot({ system, tool, flows }: EndReport, what: string): string {
  if (flows.length === 0 && tool === 'nc') return `nc does not tell ${what}`;
  if (flows.length === 0) return `it ended before the sender told ${what}`;
  return `${system ?? 'the system'} does not tell a program ${what}`;
}

function noRtt({ system, ticks }: EndReport): string {
  if (ticks.length === 0) return 'no sample of the sender came';
  if (system === 'Darwin') return 'macOS counts round trips in whole milliseconds';
  return 'the kernel of the sender does not tell it';
}

function noCpu({ tool, ended }: EndReport): string {
  if (tool === 'nc') return 'nc does not tell it';
  return ended ? 'its system does not tell it' : 'it ended before it was told';
}
