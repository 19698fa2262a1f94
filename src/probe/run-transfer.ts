import { randomBytes, randomInt } from 'node:crypto';
import type { OpenTalk } from '../collect/talk.ts';
import type { Trouble } from '../facts/trouble.ts';
import { type LiveEnd, openEnd } from './transfer-end.ts';
import {
  drainSecondsMax,
  type EndReport,
  meetSecondsMax,
  type TransferRole,
} from './transfer-types.ts';

/** A host of a transfer, and the address at which the other reaches it. */
export interface TransferHost {
  readonly name: string;
  readonly address: string;
  readonly open: OpenTalk;
}

/** One direction that is to be measured. */
export interface TransferAsk {
  /** Sends. */
  readonly from: TransferHost;
  /** Receives. */
  readonly to: TransferHost;
  readonly seconds: number;
  readonly bytesMax: number;
  readonly streams: number;
  readonly signal: AbortSignal;
  /** Called once a port is open, before anything is sent. */
  readonly onListen: (listener: string, address: string, port: number) => void;
}

/** A side of a transfer. */
export type TransferSide = 'from' | 'to';

/** An attempt in which the two did not meet. */
export interface MissedMeeting {
  readonly listener: TransferSide;
  /** What the one that connects was told, or the listener: `silent`, `refused`, `nobody`, ... */
  readonly why: string;
}

/** What became of a transfer in one direction. */
export type TransferRun =
  | {
      readonly ok: true;
      readonly listener: TransferSide;
      readonly from: EndReport;
      readonly to: EndReport;
      readonly streams: number;
      readonly missed: readonly MissedMeeting[];
      /** Ended from here before its end. */
      readonly interrupted: boolean;
    }
  | {
      readonly ok: false;
      /** One end could not be begun. */
      readonly trouble?: Trouble;
      readonly at?: TransferSide;
      /** Absent where an end could not be begun. */
      readonly from?: EndReport;
      readonly to?: EndReport;
      readonly missed: readonly MissedMeeting[];
      readonly interrupted: boolean;
    };

/** Two sides to listen, and once more for a port that was taken. */
const attemptsMax = 3;

/**
 * Runs one bounded transfer. The receiver listens, or the sender where the receiver cannot or is not
 * reached. Whatever happens, both ends have been told to end when this returns.
 */
export async function runTransfer(ask: TransferAsk): Promise<TransferRun> {
  const missed: MissedMeeting[] = [];
  for (let attempt = 0; attempt < attemptsMax; attempt += 1) {
    const done = await attemptOnce(ask, missed);
    if (done !== undefined) return done;
  }
  return { ok: false, missed, interrupted: ask.signal.aborted };
}

/** One attempt; undefined: the two did not meet, and `missed` says why. */
async function attemptOnce(
  ask: TransferAsk,
  missed: MissedMeeting[],
): Promise<TransferRun | undefined> {
  const wholeMs = (ask.seconds + drainSecondsMax + 3 * meetSecondsMax) * 1000;
  const opening = ({ open }: TransferHost) => openEnd({ open, wholeMs, signal: ask.signal });
  const [from, to] = await Promise.all([opening(ask.from), opening(ask.to)]);
  const stop = () => {
    for (const each of [from, to]) if (each.ok) each.end.stop();
  };
  try {
    const interrupted = ask.signal.aborted;
    if (!from.ok) return { ok: false, trouble: from.trouble, at: 'from', missed, interrupted };
    if (!to.ok) return { ok: false, trouble: to.trouble, at: 'to', missed, interrupted };
    const ends = { from: from.end, to: to.end };
    const reports = { from: from.end.report(), to: to.end.report() };
    const listener = listenersFor(reports).find((side) => !isTried(side, missed));
    if (listener === undefined || interrupted) {
      return { ok: false, ...reports, missed, interrupted };
    }
    const why = await meet(ask, ends, listener);
    if (why !== undefined && !ask.signal.aborted) {
      missed.push({ listener, why });
      return undefined;
    }
    await load(ask, ends);
    return {
      ok: true,
      listener,
      from: ends.from.report(),
      to: ends.to.report(),
      streams: streamsOf(ask, reports),
      missed,
      interrupted: ask.signal.aborted,
    };
  } finally {
    stop();
  }
}

/** A side is tried once, and once more where its port was taken. */
function isTried(side: TransferSide, missed: readonly MissedMeeting[]): boolean {
  const own = missed.filter(({ listener }) => listener === side);
  return own.some(({ why }) => why !== 'bind') || own.length > 1;
}

interface Reports {
  readonly from: EndReport;
  readonly to: EndReport;
}

/**
 * Who may listen, the first to be tried first. On macOS nobody does: a program that listens opens a
 * dialog there. With `nc` only a receiver listens.
 */
export function listenersFor({ from, to }: Reports): readonly TransferSide[] {
  const tools = [from.tool, to.tool];
  if (tools.includes('nothing') || tools.includes(undefined)) return [];
  const may: TransferSide[] = [];
  if (to.system !== 'Darwin') may.push('to');
  if (from.system !== 'Darwin' && !tools.includes('nc')) may.push('from');
  return may;
}

function streamsOf({ streams }: TransferAsk, { from, to }: Reports): number {
  return from.tool === 'nc' || to.tool === 'nc' ? 1 : streams;
}

/** Lets the two meet; gives why they did not. */
async function meet(
  ask: TransferAsk,
  ends: Readonly<Record<TransferSide, LiveEnd>>,
  listener: TransferSide,
): Promise<string | undefined> {
  const caller: TransferSide = listener === 'from' ? 'to' : 'from';
  const reports = { from: ends.from.report(), to: ends.to.report() };
  const role = (side: TransferSide, port: number): Omit<TransferRole, 'marker'> => ({
    role: side === listener ? 'listen' : 'connect',
    way: side === 'from' ? 'send' : 'receive',
    own: ask[side].address,
    peer: ask[side === 'from' ? 'to' : 'from'].address,
    port,
    token,
    streams: streamsOf(ask, reports),
    seconds: ask.seconds,
    bytesMax: ask.bytesMax,
    plain: reports.from.tool === 'nc' || reports.to.tool === 'nc',
  });
  const token = randomBytes(16).toString('hex');
  // nc does not tell which port it was given, so it is given one of the private ones (RFC 6335).
  const port = reports[listener].tool === 'nc' ? randomInt(49_152, 65_536) : 0;
  ends[listener].give(role(listener, port));
  const waitMs = meetSecondsMax * 1000;
  const heard = await ends[listener].until(
    ({ port: open, failed }) => open !== undefined || failed !== undefined,
    waitMs,
  );
  if (heard.port === undefined) return heard.failed?.at ?? wordsOf(ends[listener]);
  ask.onListen(ask[listener].name, ask[listener].address, heard.port);
  ends[caller].give(role(caller, heard.port));
  // nc says nothing when it is through: its first sample, or its end, tells.
  const isClear = ({ met, ticks, failed, ended }: EndReport) =>
    met || ticks.length > 0 || failed !== undefined || ended;
  const called = await ends[caller].until(isClear, (meetSecondsMax + ask.seconds) * 1000);
  const listened = ends[listener].report();
  if (called.met || called.ticks.length > 0 || listened.met) return undefined;
  const { failed = listened.failed } = called;
  if (failed === undefined) return undefined;
  return failed.at === 'connect' ? failed.why : failed.at;
}

function wordsOf(end: LiveEnd): string {
  return end.complaint() === '' ? 'no-answer' : end.complaint();
}

/** Waits for the end of the load: that of the receiver, which counts, and shortly for the sender. */
async function load(
  { seconds }: TransferAsk,
  { from, to }: Readonly<Record<TransferSide, LiveEnd>>,
): Promise<void> {
  const isDone = ({ ended, failed }: EndReport) => ended || failed !== undefined;
  const wholeMs = (seconds + drainSecondsMax + meetSecondsMax) * 1000;
  const lost = from.until((report) => isDone(report), wholeMs).then(() => graceOver());
  await Promise.race([to.until(isDone, wholeMs), lost]);
  await from.until(isDone, graceMs);
}

/** For the last lines of one end once the other has ended. */
const graceMs = 2_000;

function graceOver(): Promise<void> {
  return new Promise((resolve) => {
    setTimeout(resolve, graceMs);
  });
}
